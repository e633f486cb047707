"""SVG: exact size, a class per style, nothing inline, words that can be read."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from geometry.drawing.pens import PENS
from geometry.drawing.shapes import Arc, Drawing, Line, Place, Polyline, StackedLength, Text
from geometry.drawing.spool_view import spool_view
from geometry.drawing.svg import pen_css, to_svg
from tests.geometry.drawing.spools import tie_in

NS = "{http://www.w3.org/2000/svg}"
CSS = Path("spools/static/spools/drawing.css")


def parsed(*shapes, width=100.0, height=50.0):
    return ElementTree.fromstring(  # noqa: S314 - our own text
        to_svg(Drawing(width, height, shapes, "Spool <214> & more"))
    )


def test_the_size_is_in_millimeters_and_the_view_box_is_the_same():
    root = parsed(width=215.9, height=88.25)
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("215.9mm", "88.25mm", "0 0 215.9 88.25")


def test_y_runs_upward():
    line = parsed(Line(1, 2, 3, 4, "edge")).find(f"{NS}line")
    assert [line.get(k) for k in ("x1", "y1", "x2", "y2")] == ["1", "48", "3", "46"]


def test_a_place_is_a_link_with_words_over_its_stretch():
    place = Place(10, 5, 20, 30, "/weeks/?of=1&job=2", 'Week "2" & more')
    link = ElementTree.fromstring(to_svg(Drawing(100.0, 50.0, (), "Weeks", places=(place,)))).find(f"{NS}a")  # noqa: S314
    assert (link.get("href"), link.get("aria-label")) == ("/weeks/?of=1&job=2", 'Week "2" & more')
    assert [link.find(f"{NS}rect").get(k) for k in ("x", "y", "width", "height")] == ["10", "15", "20", "30"]


def test_a_quarter_arc_counter_clockwise_runs_from_right_to_top():
    path = parsed(Arc(10, 10, 5, 0, 90, "edge")).find(f"{NS}path").get("d")
    assert path == "M15 40A5 5 0 0 0 10 35"


def test_a_whole_circle_is_a_circle():
    assert parsed(Arc(10, 10, 5, 0, 360, "thin")).find(f"{NS}circle").get("r") == "5"


def test_words_keep_their_text_and_their_turn():
    text = parsed(Text(10, 20, "B & <C>", 2.1, "middle", 90.0)).find(f"{NS}text")
    assert text.text == "B & <C>"
    assert text.get("text-anchor") == "middle"
    assert text.get("transform") == "rotate(-90 10 30)"
    assert text.get("font-size") == "3"


def test_control_characters_of_typed_words_do_not_break_the_file():
    assert parsed(Text(0, 0, "2\x0014\x1b", 3)).find(f"{NS}text").text == "214"


def test_a_stacked_length_can_be_read_aloud():
    group = parsed(StackedLength(20, 20, "A ", "3' 4", 5, 16, '"', 3)).find(f"{NS}g")
    assert group.get("aria-label") == "A 3' 4-5/16\""
    assert [text.text for text in group.findall(f"{NS}text")] == ["A 3' 4", "5", "16", '"']


def test_the_title_names_the_drawing():
    root = parsed()
    assert root.find(f"{NS}title").text == root.get("aria-label") == "Spool <214> & more"


def test_nothing_inline_that_a_strict_policy_refuses():
    svg = to_svg(spool_view(tie_in()))
    assert "<style" not in svg
    assert "style=" not in svg
    assert "<script" not in svg
    assert "href" not in svg


@pytest.mark.parametrize("style", list(PENS))
def test_every_pen_has_its_class(style):
    assert f'class="d-{style}"' in to_svg(Drawing(9, 9, (Polyline(((0, 0), (1, 1)), style),), "x"))


def test_the_page_s_style_sheet_has_every_rule_of_the_pens():
    css = CSS.read_text()
    for rule in pen_css().splitlines()[1:]:
        assert rule in css


def test_a_drawing_that_travels_alone_carries_its_style_sheet():
    assert pen_css() in to_svg(Drawing(9, 9, (), "x"), standalone=True)
