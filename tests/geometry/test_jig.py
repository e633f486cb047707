"""Readings of the jig: legs, turn and range."""

import pytest

from geometry.jig import Jig, JigError, SideReading, legs_of
from tests.geometry.tie_ins import IN, codes


def side(reading, burn=4.0, set_point=4.0):
    """Return one side, in inches."""
    return SideReading(reading_mm=reading * IN, burn_mm=burn * IN, set_point_mm=set_point * IN)


def test_with_burn_at_the_set_point_the_tape_reads_true():
    assert legs_of(side(40.3125), side(27.875), included_deg=142.0).leg_a_mm == pytest.approx(40.3125 * IN)


@pytest.mark.parametrize("included", [60.0, 60.0 - 1e-10, 180.0, 180.0 + 1e-10])
def test_the_range_is_closed(included):
    assert not [
        found for found in legs_of(side(40), side(28), included_deg=included).findings if found.level == "error"
    ]


@pytest.mark.parametrize("included", [59.99, 180.01, -5.0, float("nan"), float("inf")])
def test_outside_the_range_is_refused(included):
    assert codes(legs_of(side(40), side(28), included_deg=included).findings) == ["included_outside_jig"]


def test_a_supplement_is_named_where_it_would_be_a_reading():
    found = legs_of(side(40), side(28), included_deg=40.0).findings[0]
    assert "supplement" in found.text
    assert "140" in found.text


def test_a_leg_eaten_up_by_its_burn_is_refused_with_its_sum():
    found = legs_of(side(3.0, burn=4.0, set_point=0.5), side(28), included_deg=142.0).findings
    assert codes(found) == ["leg_not_positive"]
    assert 'reading 3" - burn 4" + set point 1/2"' in found[0].text


@pytest.mark.parametrize(("reading", "word"), [(8.0, "shorter"), (90.0, "longer")])
def test_a_leg_outside_the_jigs_reach_is_refused(reading, word):
    jig = Jig(least_leg_mm=10 * IN, most_leg_mm=72 * IN)
    found = legs_of(side(reading), side(28), included_deg=142.0, jig=jig).findings
    assert codes(found) == ["leg_outside_jig"]
    assert word in found[0].text


def test_a_leg_at_the_very_end_of_the_reach_passes():
    jig = Jig(least_leg_mm=10 * IN, most_leg_mm=72 * IN)
    assert legs_of(side(72.0), side(10.0), included_deg=142.0, jig=jig).findings == ()


def test_nan_on_the_tape_is_a_finding_and_no_crash():
    assert codes(legs_of(side(float("nan")), side(28), included_deg=142.0).findings) == ["reading_not_a_length"]


def test_180_says_straight_pipe():
    assert codes(legs_of(side(40), side(28), included_deg=180.0).findings) == ["straight_pipe"]


@pytest.mark.parametrize(
    "limits",
    [
        {"least_included_deg": 0.0},
        {"most_included_deg": 181.0},
        {"least_included_deg": 170.0, "most_included_deg": 60.0},
    ],
)
def test_a_jig_that_cannot_be_is_refused(limits):
    with pytest.raises(JigError):
        Jig(**limits)


def test_a_jig_with_its_leg_limits_exchanged_is_refused():
    with pytest.raises(JigError, match="exchange"):
        Jig(least_leg_mm=100.0, most_leg_mm=50.0)
