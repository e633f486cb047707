"""Pipe bent to a radius of its own."""

import pytest

from geometry.bends import BendChoice, make_up
from geometry.build import build
from tests.geometry.tie_ins import GROOVED, IN, codes, tie_in, turn

BENT = make_up("bent_pipe")


def bent(radius):
    """Return the choice, radius in inches."""
    return BendChoice("bent_pipe", bend_radius_mm=radius * IN)


def test_the_developed_length_is_legs_less_tangents_plus_arc():
    answer = build(tie_in(60.0, 48.0, 135.0, bend=bent(22.5)))
    developed = 60.0 + 48.0 - 2 * 22.5 * 0.41421356 + 22.5 * 0.78539816
    assert answer.pieces[0].cut_length_mm / IN == pytest.approx(developed, rel=1e-7)
    assert answer.joints == ()


def test_the_bend_starts_a_tangent_before_the_pi_and_ends_an_arc_later():
    marks = {m.name: m.value_mm / IN for m in build(tie_in(60.0, 48.0, 135.0, bend=bent(22.5))).pieces[0].marks}
    assert marks["bend_start"] == pytest.approx(60.0 - 22.5 * 0.41421356, rel=1e-7)
    assert marks["bend_end"] - marks["bend_start"] == pytest.approx(22.5 * 0.78539816, rel=1e-7)


@pytest.mark.parametrize("choice", [BendChoice("bent_pipe"), bent(2.0)])
def test_without_a_radius_that_can_be_it_is_refused(choice):
    made = BENT.make(turn(45.0, choice))
    assert codes(made.findings) == ["bend_radius_missing"]


def test_a_straight_that_the_arc_eats_up_is_refused():
    answer = build(tie_in(9.0, 48.0, 90.0, bend=bent(22.5)))
    assert not answer.buildable
    assert "no pipe" in next(found for found in answer.findings if found.code == "leg_too_short").text


def test_a_groover_needs_its_straight_on_bent_pipe_too():
    answer = build(tie_in(25.0, 48.0, 90.0, bend=bent(22.5), end_a=GROOVED))
    assert "leg_too_short" in codes(answer.findings)


def test_under_one_od_of_straight_the_bender_is_asked():
    assert "bender_grip" in codes(build(tie_in(26.0, 60.0, 90.0, bend=bent(22.5))).findings)


def test_a_radius_under_three_ods_is_named():
    assert "bend_tight" in codes(BENT.make(turn(45.0, bent(13.0))).findings)
    assert "bend_tight" not in codes(BENT.make(turn(45.0, bent(13.5))).findings)
