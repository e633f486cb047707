"""Shapes: what they say aloud, and how they are moved."""

import pytest

from geometry.drawing.shapes import Arc, Line, Polyline, StackedLength, Text, arrowhead, moved


@pytest.mark.parametrize(
    ("label", "spoken"),
    [
        (StackedLength(0, 0, "A ", "3' 4", 5, 16, '"', 3), "A 3' 4-5/16\""),
        (StackedLength(0, 0, "", "27", 7, 8, '"', 3), '27-7/8"'),
        (StackedLength(0, 0, "", "", 7, 8, '"', 3), '7/8"'),
        (StackedLength(0, 0, "CUT ", "912 mm", 0, 0, "", 3), "CUT 912 mm"),
        (StackedLength(0, 0, "C ", "4' 5", 0, 0, '"', 3), "C 4' 5\""),
    ],
)
def test_a_stacked_length_is_spoken_as_a_tape_is_read(label, spoken):
    assert label.spoken == spoken


def test_an_arrowhead_points_where_it_is_told():
    tip, *back = arrowhead((10.0, 5.0), toward_deg=90.0, length_mm=3.0).points
    assert tip == (10.0, 5.0)
    assert all(y == pytest.approx(2.0) for _, y in back)


def test_moving_shifts_every_kind_of_shape():
    shapes = (
        Line(0, 0, 1, 1, "edge"),
        Arc(0, 0, 2, 0, 90, "edge"),
        Polyline(((0, 0), (1, 0)), "edge"),
        Text(0, 0, "A", 3),
        StackedLength(0, 0, "", "1", 1, 2, '"', 3),
    )
    line, arc, polyline, text, length = moved(shapes, dx_mm=10.0, dy_mm=-2.0)
    assert (line.x1_mm, line.y2_mm) == (10.0, -1.0)
    assert (arc.x_mm, arc.y_mm) == (10.0, -2.0)
    assert polyline.points == ((10.0, -2.0), (11.0, -2.0))
    assert (text.x_mm, length.y_mm) == (10.0, -2.0)
