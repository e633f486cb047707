"""The isometric view: a true projection, the up mark up, labels apart."""

from math import atan2, degrees, sqrt

import pytest

from geometry.drawing.boxes import touching
from geometry.drawing.isometric import isometric_basis, isometric_view
from geometry.drawing.labels import boxes_of
from geometry.drawing.shapes import StackedLength, Text
from geometry.drawing.view import dot
from tests.geometry.drawing.spools import chain, random_spools, tie_in


@pytest.mark.parametrize("hand", ["", "left", "right", "up", "down"])
def test_all_three_axes_are_shortened_alike(hand):
    view = isometric_basis(hand)
    for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        x, y = view.at(axis)
        assert sqrt(x * x + y * y) == pytest.approx(sqrt(2 / 3))
    assert dot(view.right, view.up) == pytest.approx(0.0)


@pytest.mark.parametrize("hand", ["", "left", "right", "up", "down"])
def test_leg_a_runs_at_30_degrees_to_the_right(hand):
    x, y = isometric_basis(hand).at((1.0, 0.0, 0.0))
    assert degrees(atan2(y, x)) == pytest.approx(30.0)


@pytest.mark.parametrize(("hand", "goes"), [("left", (-1, 1)), ("right", (1, -1)), ("up", (0, 1)), ("down", (0, -1))])
def test_the_first_turn_goes_where_the_hand_says(hand, goes):
    x, y = isometric_basis(hand).at((0.0, 1.0, 0.0))
    signs = tuple(0 if abs(value) < 1e-9 else 1 if value > 0 else -1 for value in (x, y))
    assert signs == goes


def test_legs_turns_ends_and_marks_are_all_there():
    drawing = isometric_view(chain(twists_deg=(70.0,), ends=("grooved", "weld-neck")))
    said = {shape.text for shape in drawing.shapes if isinstance(shape, Text)}
    assert {"A", "B", "P1", "E1", "E2", "UP", "END A, TO MAIN", "END B", "rolled 70° right"} <= said
    figures = [shape.spoken for shape in drawing.shapes if isinstance(shape, StackedLength)]
    assert figures == ["A 3' 4\"", "L2 2' 6\"", "B 3' 0\""]


def test_no_labels_touch_and_none_leave_the_frame_on_60_random_spools():
    for number, spool in enumerate(random_spools(60, seed=7)):
        drawing = isometric_view(spool)
        boxes = boxes_of(drawing.shapes)
        for k, box in enumerate(boxes):
            assert touching(box, boxes[k + 1 :]) == 0, f"spool {number}"
            assert box.inside(width_mm=drawing.width_mm, height_mm=drawing.height_mm), f"spool {number}"


def test_a_spool_without_a_recorded_hand_has_no_up_arrow():
    drawing = isometric_view(tie_in(hand=""))
    assert not any(isinstance(shape, Text) and shape.text == "UP" for shape in drawing.shapes)
    assert "mirror image" in drawing.view_text
