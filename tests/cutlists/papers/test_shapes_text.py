"""Drawings as text: every shape comes back, to the thousandth of a millimeter."""

from typing import get_args

from cutlists.papers.shapes_text import drawing_text, read_drawing
from geometry.drawing.shapes import Arc, Drawing, Line, Polyline, Shape, StackedLength, Text

EACH = (
    Line(0.0, 1.5, 2.25, 3.125, "edge"),
    Arc(1.0, 2.0, 3.0, 10.0, -90.0, "center"),
    Polyline(((0.0, 0.0), (1.0, 2.0), (3.0, 0.5)), "ink", closed=True),
    Text(1.0, 2.0, 'weld "1" <é>', 2.5, "end", 30.0, "note"),
    StackedLength(1.0, 2.0, "C ", "3' 4", 5, 16, '"', 3.0, "middle", 12.5, "figure"),
)


def test_every_kind_of_shape_comes_back() -> None:
    assert {type(shape) for shape in EACH} == set(get_args(Shape))
    drawing = Drawing(188.0, 80.0, EACH, "Spool 214", "1:10", "seen from the main")
    assert read_drawing(drawing_text(drawing)) == drawing


def test_coordinates_are_kept_to_a_thousandth_of_a_millimeter() -> None:
    drawing = Drawing(10.0, 10.0, (Line(1.23456, 0.0, 0.0, 0.0, "edge"),), "line")
    assert read_drawing(drawing_text(drawing)).shapes[0].x1_mm == 1.235
