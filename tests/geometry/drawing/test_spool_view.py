"""The spool's drawing: to scale, every label clear of the others and in the frame, every figure the right one."""

from math import hypot

import pytest

from geometry.bends import BendChoice
from geometry.build import SpoolRequest, build
from geometry.drawing.boxes import touching
from geometry.drawing.description import DrawingError
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.labels import boxes_of
from geometry.drawing.shapes import Line, Polyline, StackedLength, Text
from geometry.drawing.spool_view import spool_view
from geometry.lengths import MILLIMETER, format_length
from geometry.tables import pipe
from tests.geometry.drawing.spools import ENDS, chain, miter, random_spools, tie_in

RANDOM = random_spools(300)


def words(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def named(said):
    """Every name that is written, each of a row like ``M1 to M4`` too."""
    names = set(said)
    for first, last in (text.split(" to ") for text in said if " to " in text and text[1:2].isdigit()):
        names |= {f"{first[0]}{number}" for number in range(int(first[1:]), int(last[1:]) + 1)}
    return names


def lengths(drawing):
    return [shape.spoken for shape in drawing.shapes if isinstance(shape, StackedLength)]


@pytest.mark.parametrize("part", range(12))
def test_300_random_spools_have_no_label_on_another_nothing_out_of_the_frame_and_no_figure_missing(part):
    for number, spool in enumerate(RANDOM[part::12]):
        drawing, name = spool_view(spool), f"random spool {part + 12 * number}"
        assert_labels_apart(drawing, name)
        assert_in_frame(drawing, name)
        assert_complete(spool, drawing, name)


def assert_labels_apart(drawing, name):
    boxes = boxes_of(drawing.shapes)
    for k, box in enumerate(boxes):
        assert touching(box, boxes[k + 1 :]) == 0, f"{name}: labels overlap"
        assert box.inside(width_mm=drawing.width_mm, height_mm=drawing.height_mm), f"{name}: a label leaves the frame"


def assert_in_frame(drawing, name):
    for shape in drawing.shapes:
        for x, y in _points(shape):
            assert -0.01 <= x <= drawing.width_mm + 0.01, f"{name}: {shape}"
            assert -0.01 <= y <= drawing.height_mm + 0.01, f"{name}: {shape}"


def assert_complete(spool, drawing, name):
    said, figures = words(drawing), lengths(drawing)
    assert {f"W{number}" for number in spool.welds} <= named(said), name
    assert {piece.mark for piece in spool.pieces} <= named(said), name
    assert sum(text.startswith("END ") for text in said) == 2, name
    assert sum(text.startswith("TURN ") for text in said) == len(spool.line.turns_deg), name
    assert sum(figure.startswith("CHECK C ") for figure in figures) == 1, name
    for leg_name, leg in (("A", spool.line.legs_mm[0]), ("B", spool.line.legs_mm[-1])):
        assert f"{leg_name} {_spoken(leg, spool.graduation)}" in figures, name


def _spoken(mm, graduation):
    return format_length(mm, graduation=graduation)


def _points(shape):
    if isinstance(shape, Line):
        return ((shape.x1_mm, shape.y1_mm), (shape.x2_mm, shape.y2_mm))
    if isinstance(shape, Polyline):
        return shape.points
    return ()


def test_the_pipe_is_drawn_to_the_scale_that_is_written():
    spool = tie_in(included_deg=127.5, nps="6")
    drawing = spool_view(spool)
    ratio = float(drawing.scale_text.split("1 : ")[1].split()[0])
    edges = [s for s in drawing.shapes if isinstance(s, Polyline) and s.style == "edge" and len(s.points) == 2]
    longest = max(hypot(s.points[1][0] - s.points[0][0], s.points[1][1] - s.points[0][1]) for s in edges)
    assert longest * ratio == pytest.approx(802.462, abs=0.01)  # leg A's pipe, worked in test of the build


def test_every_figure_is_the_spool_s_own():
    figures = lengths(spool_view(tie_in()))
    assert "A 3' 0-1/8\"" in figures
    assert "B 1' 10-9/16\"" in figures
    assert "CHECK C 4' 5\"" in figures
    assert "CUT 2' 7-5/8\"" in figures  # 31.5929 and 18.0304 round together: the spare sixteenth goes to A
    assert "CUT 1' 6\"" in figures


def test_a_metric_spool_is_written_in_millimeters():
    figures = lengths(spool_view(tie_in(graduation=MILLIMETER)))
    assert all(figure.endswith(" mm") for figure in figures)


def test_turn_and_included_angle_are_both_said():
    said = words(spool_view(tie_in(included_deg=127.5)))
    assert "TURN 52.5°" in said
    assert "included angle 127.5°" in said


@pytest.mark.parametrize(
    ("hand", "rises", "view"),
    [
        ("left", True, "up mark toward you"),
        ("right", False, "up mark toward you"),
        ("up", True, "up mark on top"),
        ("down", False, "up mark on top"),
        ("", True, "may be the mirror image"),
    ],
)
def test_the_turn_goes_the_way_that_the_hand_says(hand, rises, view):
    drawing = spool_view(tie_in(hand=hand))
    centers = [s.points for s in drawing.shapes if isinstance(s, Polyline) and s.style == "center"]
    start, end = centers[0][0], centers[2][-1]
    assert (end[1] > start[1]) is rises
    assert start[0] < end[0]
    assert view in drawing.view_text


def test_the_up_mark_is_shown_only_where_the_hand_was_recorded():
    assert "UP MARK" in words(spool_view(tie_in(hand="up")))
    assert "UP MARK" not in words(spool_view(tie_in(hand="")))


def test_the_main_end_is_named():
    assert "END A, TO MAIN" in words(spool_view(tie_in()))


def test_a_miter_s_cut_length_is_said_to_be_on_the_center_line():
    figures = lengths(spool_view(tie_in(bend=miter(1), included_deg=135.0)))
    assert sum("CUT ON CL" in figure for figure in figures) == 2


def test_a_miter_of_five_welds_names_its_short_pieces_and_its_welds_together():
    said = words(spool_view(tie_in(bend=miter(5), legs_in=(50, 46), included_deg=85.0)))
    assert "M1 to M4" in said
    assert "W1 to W5" in said
    assert not {"M2", "W3"} & set(said)


def test_straight_pipe_is_not_said_to_turn():
    drawing = spool_view(tie_in(included_deg=180.0, hand="left"))
    assert drawing.view_text == "Straight pipe, end A at the left."


def test_a_standard_wall_is_named_as_the_trade_names_it():
    assert any(text.startswith("NPS 6 STD,") for text in words(spool_view(tie_in(schedule="STD"))))


def test_a_flange_s_leg_says_what_it_was_measured_to():
    assert "leg to flange face" in words(spool_view(tie_in(ends=("grooved", "weld-neck"))))


def test_bent_pipe_shows_its_developed_length():
    spool = tie_in(bend=BendChoice("bent_pipe", bend_radius_mm=762.0), legs_in=(40, 30), included_deg=140.0)
    assert any("DEVELOPED" in figure for figure in lengths(spool_view(spool)))


def test_a_rolled_second_bend_is_said_to_leave_the_paper():
    assert any("look short" in text for text in words(spool_view(chain(twists_deg=(70.0,)))))
    assert not any("look short" in text for text in words(spool_view(chain(twists_deg=(180.0,)))))


def test_a_smaller_frame_still_keeps_every_label_apart():
    for spool in RANDOM[:12]:
        drawing = spool_view(spool, width_mm=150.0, height_mm=95.0)
        boxes = boxes_of(drawing.shapes)
        assert all(touching(box, boxes[k + 1 :]) == 0 for k, box in enumerate(boxes))


def test_a_lean_drawing_fits_a_label_with_every_piece_leg_and_turn():
    for number, spool in enumerate(RANDOM[:60]):
        drawing, name = spool_view(spool, width_mm=98.0, height_mm=52.0, lean=True), f"random spool {number}"
        assert_labels_apart(drawing, name)
        assert_in_frame(drawing, name)
        said, figures = words(drawing), lengths(drawing)
        assert {piece.mark for piece in spool.pieces} <= named(said), name
        assert sum(text.startswith("TURN ") for text in said) == len(spool.line.turns_deg), name
        assert sum(figure.startswith("CHECK C ") for figure in figures) == 1, name
        assert not any(text.startswith(("END ", "W1")) for text in said), name


def test_a_spool_that_cannot_be_built_is_not_drawn():
    request = SpoolRequest(
        pipe=pipe("6", "40"),
        leg_a_mm=100.0,
        leg_b_mm=100.0,
        included_deg=90.0,
        bend=BendChoice(),
        end_a=ENDS["plain"],
        end_b=ENDS["plain"],
        root_gap_mm=2.0,
    )
    with pytest.raises(DrawingError, match="can't be built"):
        spool_drawing(request, build(request), mark="9")
