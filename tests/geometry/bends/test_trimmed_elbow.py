"""Elbows trimmed to an odd turn."""

import pytest

from geometry.bends import BendChoice, make_up
from geometry.bends.trimmed_elbow import source_of
from tests.geometry.tie_ins import IN, codes, turn

TRIMMED = make_up("trimmed_elbow")


@pytest.mark.parametrize(
    ("turn_deg", "source"), [(38.0, "90"), (90.0, "90"), (90.0000005, "90"), (90.25, "180"), (120.0, "180")]
)
def test_the_smallest_fitting_that_gives_the_turn_is_taken(turn_deg, source):
    assert source_of(turn_deg, BendChoice()) == source


def test_a_180_return_is_taken_where_it_is_asked_for():
    made = TRIMMED.make(turn(38.0, BendChoice(source="180")))
    assert made.parts[0].made_from == "LR180"
    assert made.take_off_mm == TRIMMED.make(turn(38.0)).take_off_mm


def test_what_is_left_over_is_less_the_kerf_on_the_center_line():
    made = TRIMMED.make(turn(52.25, nps="3", kerf=0.125))
    assert made.left_over_deg == pytest.approx(36.1585, abs=1e-4)


def test_nothing_is_left_over_where_the_kerf_takes_the_rest():
    assert TRIMMED.make(turn(89.5, kerf=0.125)).left_over_deg == 0.0


def test_a_trimmed_face_asks_for_hi_lo_and_a_whole_one_says_so():
    assert codes(TRIMMED.make(turn(38.0)).findings) == ["check_hi_lo"]
    assert codes(TRIMMED.make(turn(90.0)).findings) == ["nothing_to_trim"]


def test_a_size_without_short_radius_is_refused_with_what_there_is():
    made = TRIMMED.make(turn(38.0, BendChoice("trimmed_elbow", "short"), nps="1/2"))
    assert codes(made.findings) == ["no_such_elbow"]
    assert "LR90" in made.findings[0].text


def test_older_three_quarter_inch_elbows_are_named():
    assert "old_elbow" in codes(TRIMMED.make(turn(38.0, nps="3/4")).findings)


def test_a_turn_of_3_degrees_asks_whether_straight_pipe_will_do():
    assert "turn_under_3" in codes(TRIMMED.make(turn(3.0)).findings)
    assert "turn_under_3" not in codes(TRIMMED.make(turn(3.01)).findings)


def test_arcs_grow_from_throat_to_heel_by_the_od():
    throat, center, heel, _ = (mark.value_mm for mark in TRIMMED.make(turn(38.0)).marks)
    assert heel - center == pytest.approx(center - throat)
    assert heel - throat == pytest.approx(4.5 * IN * 0.6632251, rel=1e-7)
