"""The plain closing check of a build."""

import pytest

from geometry.adjust import CheckInput
from geometry.checks import closing_measure
from geometry.closing import chain_closing, spool_tolerance_mm, tie_in_closing
from tests.geometry.tie_ins import IN, codes


def checked(off, *, a=40.3125, b=27.875, included=142.0, nps="4", accepted=False):
    """Return the findings on a closing that is so many inches off."""
    computed = closing_measure(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=included)
    measured = CheckInput(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=included, closing_mm=computed + off * IN)
    return tie_in_closing(measured, computed_mm=computed, nps=nps, misclosure_accepted=accepted)


@pytest.mark.parametrize(("nps", "inches"), [("4", 1 / 8), ("10", 1 / 8), ("12", 3 / 16), ("24", 3 / 16)])
def test_a_spools_tolerance_follows_its_size(nps, inches):
    assert spool_tolerance_mm(nps) == pytest.approx(inches * IN)


def test_within_the_spools_tolerance_nothing_is_said():
    assert checked(0.12) == checked(-0.12) == ()


def test_past_it_but_inside_the_instruments_a_person_is_asked():
    found = checked(0.2)
    assert (codes(found), found[0].level) == (["over_spool_tolerance"], "warning")


def test_larger_pipe_may_be_off_by_more():
    assert checked(0.15, nps="12") == ()


def test_past_the_instruments_it_stops():
    found = checked(-1.0)
    assert (codes(found), found[0].level) == (["does_not_close"], "error")
    assert '1" long of it' in found[0].text


def test_a_named_person_turns_the_stop_into_a_warning():
    assert checked(-1.0, accepted=True)[0].level == "warning"


def test_a_chain_is_held_to_the_spools_tolerance():
    assert chain_closing(nps="4", measured_mm=1000.0, computed_mm=1003.0) == ()
    assert codes(chain_closing(nps="4", measured_mm=1000.0, computed_mm=1003.3)) == ["does_not_close"]
    assert chain_closing(nps="4", measured_mm=None, computed_mm=1003.3) == ()
