"""Elbows as they come."""

import pytest

from geometry.bends import BendChoice, make_up
from geometry.tables import elbow, pipe_sizes
from tests.geometry.tie_ins import codes, turn

WHOLE = make_up("whole_elbow")


@pytest.mark.parametrize("nps", pipe_sizes())
@pytest.mark.parametrize("turn_deg", [45.0, 90.0])
def test_take_off_is_the_tables_center_to_end(nps, turn_deg):
    made = WHOLE.make(turn(turn_deg, BendChoice("whole_elbow"), nps=nps, schedule="STD"))
    assert made.take_off_mm == elbow(nps, f"LR{turn_deg:.0f}").standard_mm


@pytest.mark.parametrize("turn_deg", [44.9, 45.01, 38.0, 60.0, 89.99, 120.0])
def test_any_other_turn_is_refused_with_the_nearest(turn_deg):
    made = WHOLE.make(turn(turn_deg, BendChoice("whole_elbow")))
    assert codes(made.findings) == ["not_a_whole_turn"]
    assert "trim an elbow" in made.findings[0].text


def test_the_arithmetic_of_a_reading_is_no_other_turn():
    assert WHOLE.make(turn(180.0 - 134.9999999, BendChoice("whole_elbow"))).welds == 2


def test_there_is_no_short_radius_45():
    made = WHOLE.make(turn(45.0, BendChoice("whole_elbow", "short")))
    assert codes(made.findings) == ["no_such_elbow"]
    assert "trim a short one" in made.findings[0].text


def test_a_short_radius_90_is_one_nominal_size_from_center_to_end():
    assert WHOLE.make(turn(90.0, BendChoice("whole_elbow", "short"))).take_off_mm == pytest.approx(4.0 * 25.4)
