"""What the field is told about one reading."""

import subprocess
import sys
from math import cos, isfinite, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks import CheckError, CheckInput, check_reading, closing_measure, included_from_closing

IN = 25.4
FOOT_MM = 304.8
LEGS = st.floats(100.0, 3000.0)
INCLUDED = st.floats(20.0, 179.5)


def reading(a=36.0, b=24.0, included=135.0, closing=None, **more):
    """Return a reading given in inches."""
    return CheckInput(
        leg_a_mm=a * IN,
        leg_b_mm=b * IN,
        included_deg=included,
        closing_mm=None if closing is None else closing * IN,
        **{"burn_a_mm": IN, "burn_b_mm": IN, **more},
    )


def found_codes(report):
    return [finding.code for finding in report.findings]


@given(LEGS, LEGS, INCLUDED)
def test_c_is_the_distance_between_the_ends_laid_out_in_the_plane(a, b, included):
    g = radians(included)
    by_points = sqrt((b * cos(g) - a) ** 2 + (b * sin(g)) ** 2)
    assert closing_measure(leg_a_mm=a, leg_b_mm=b, included_deg=included) == pytest.approx(by_points, rel=1e-9)


@given(LEGS, LEGS, INCLUDED)
def test_the_included_angle_comes_back_from_three_tape_measures(a, b, included):
    closing = closing_measure(leg_a_mm=a, leg_b_mm=b, included_deg=included)
    back = included_from_closing(leg_a_mm=a, leg_b_mm=b, closing_mm=closing)
    assert back == pytest.approx(included, abs=1e-4)


@given(LEGS, LEGS, INCLUDED)
def test_swapping_the_ends_keeps_c_and_swaps_its_sensitivities(a, b, included):
    one = check_reading(CheckInput(leg_a_mm=a, leg_b_mm=b, included_deg=included))
    other = check_reading(CheckInput(leg_a_mm=b, leg_b_mm=a, included_deg=included))
    assert one.closing_computed_mm == pytest.approx(other.closing_computed_mm, rel=1e-12)
    assert one.sensitivities.per_leg_a == pytest.approx(other.sensitivities.per_leg_b, rel=1e-9, abs=1e-12)


def test_included_and_turn_are_not_exchanged_in_c():
    """Trap 2: at 90 the mistake hides, so 135 included (turn 45) it is: 55.6 in, not 25.5."""
    assert closing_measure(leg_a_mm=36, leg_b_mm=24, included_deg=135) == pytest.approx(55.6227, abs=1e-4)


@pytest.mark.parametrize("closing", [61.0, 11.0])
def test_three_lengths_that_make_no_triangle_are_refused(closing):
    with pytest.raises(CheckError, match="no triangle"):
        included_from_closing(leg_a_mm=36, leg_b_mm=24, closing_mm=closing)


def test_no_check_measure_is_a_finding_of_its_own():
    report = check_reading(reading())
    assert not report.checked
    assert not report.closes
    assert found_codes(report) == ["no_check_measure"]
    assert report.findings[0].level == "warning"
    assert report.misclosure_mm is None


def test_a_reading_that_closes_has_no_suspects():
    report = check_reading(reading(closing=55.625))
    assert report.closes
    assert report.suspects == ()
    assert report.misclosure_mm == pytest.approx(0.06, abs=0.01)


def test_a_burned_leg_is_said_in_the_words_of_the_trade():
    measured = reading(b=25.0, closing=55.6227, mark_to_end_b_mm=sqrt(144 + 576 + 576 * cos(radians(45))) * IN)
    report = check_reading(measured)
    assert not report.closes
    assert report.findings[0].level == "error"
    assert report.findings[0].text == (
        "Does not close: measure again, most likely the burned inches on leg B. Do not cut."
    )
    assert report.findings[0].figures[-1].value == pytest.approx(24 * IN)


def test_close_odds_name_several_suspects_and_ask_for_d_and_e():
    report = check_reading(reading(a=37.0, closing=55.6227))
    assert {"burn_left_in_a", "burn_left_in_b"} <= {suspect.code for suspect in report.suspects}
    assert report.needs == ("D", "E")
    assert " or " in report.findings[0].text


def test_what_no_single_mistake_explains_says_measure_all_again():
    report = check_reading(reading(included=120.0, closing=80.0))
    assert report.suspects == ()
    assert "no single known mistake explains it" in report.findings[0].text


def test_where_c_is_blind_for_leg_a_it_asks_for_e():
    """12 x 24 at 60: an inch on leg A moves C 0.024 in."""
    report = check_reading(reading(a=12.5, b=24.0, included=60.0, closing=20.79))
    assert abs(report.sensitivities.per_leg_a) < 0.3
    assert report.needs == ("E",)
    assert "leg_not_seen" in found_codes(report)


def test_where_c_is_blind_for_leg_b_it_asks_for_d():
    report = check_reading(reading(a=30.0, b=15.5, included=60.0, closing=25.98))
    assert report.needs == ("D",)


def test_a_blind_spot_is_closed_by_the_measure_asked_for():
    report = check_reading(reading(a=30.0, b=15.5, included=60.0, closing=25.98, mark_to_end_b_mm=14.08 * IN))
    assert report.needs == ()
    assert "leg_not_seen" not in found_codes(report)


def test_swapped_legs_are_said_to_be_invisible_to_c_alone():
    assert "swap_not_seen" in found_codes(check_reading(reading(closing=55.625)))


def test_with_d_taken_the_swap_is_no_longer_a_caution():
    report = check_reading(reading(closing=55.625, mark_to_end_b_mm=33.54 * IN))
    assert "swap_not_seen" not in found_codes(report)


def test_a_shallow_turn_asks_for_the_offset_from_the_straight_line():
    report = check_reading(reading(a=24.0, b=24.0, included=170.0, closing=47.8))
    assert "included_hardly_seen" in found_codes(report)


def test_near_90_sharp_and_gentle_are_asked_back():
    """91 read as 89 on 9 in and 8 in legs moves C only 0.21 in."""
    report = check_reading(reading(a=9.0, b=8.0, included=89.0, closing=12.04))
    assert report.closes
    assert "sharp_or_gentle" in found_codes(report)


def test_away_from_90_sharp_and_gentle_are_not_asked():
    assert "sharp_or_gentle" not in found_codes(check_reading(reading(closing=55.625)))


def test_closing_inside_the_instruments_but_outside_the_spool_tolerance_is_a_caution():
    report = check_reading(reading(closing=55.6227 + 0.2))
    assert report.closes
    assert "over_spool_tolerance" in found_codes(report)


def test_the_tolerance_is_the_line_between_closing_and_not():
    limit = check_reading(reading(closing=55.6227 - 1e-3)).tolerance_mm / IN
    assert check_reading(reading(closing=55.6227 - 0.98 * limit)).closes
    assert not check_reading(reading(closing=55.6227 - 1.02 * limit)).closes
    limit = check_reading(reading(closing=55.6227 + 1e-3)).tolerance_mm / IN
    assert check_reading(reading(closing=55.6227 + 0.98 * limit)).closes
    assert not check_reading(reading(closing=55.6227 + 1.02 * limit)).closes


def test_the_tolerance_is_nearer_where_a_burned_inch_would_put_c():
    """The side where a leg is too long gets the one-sided limit: an inch is looked for, four can't be missed."""

    def off(by, **burn):
        return check_reading(reading(50.0, 40.0, 100.0, closing=right + by, **burn))

    right = check_reading(reading(50.0, 40.0, 100.0)).closing_computed_mm / IN
    short, long = off(-1e-3).tolerance_mm / IN, off(1e-3).tolerance_mm / IN
    assert short < long
    assert [off(-0.98 * short).closes, off(-1.02 * short).closes] == [True, False]
    assert [off(0.98 * long).closes, off(1.02 * long).closes] == [True, False]
    four = {"burn_a_mm": 4 * IN, "burn_b_mm": 4 * IN}
    assert off(-1e-3, **four).tolerance_mm == off(1e-3, **four).tolerance_mm


def test_a_mark_beyond_the_end_of_a_short_leg_is_said():
    report = check_reading(reading(a=10.0, b=24.0, closing=32.0, mark_to_end_b_mm=33.54 * IN))
    assert "mark_beyond_end" in found_codes(report)


def test_the_included_angle_by_tape_stands_beside_the_jig_reading():
    report = check_reading(reading(a=41.5, b=27.25, included=127.5, closing=62.0))
    assert report.included_by_tape_deg == pytest.approx(127.5742, abs=1e-4)


def test_no_triangle_leaves_the_tape_angle_out_and_does_not_close():
    report = check_reading(reading(closing=70.0))
    assert report.included_by_tape_deg is None
    assert not report.closes


def test_every_check_measure_is_listed_with_what_it_is_off():
    report = check_reading(reading(closing=55.625, mark_to_end_b_mm=33.5 * IN, back_mark_to_end_b_mm=44.4 * IN))
    assert [measure.name for measure in report.measures] == ["C", "D", "E"]
    assert all(
        measure.off_mm == pytest.approx(measure.measured_mm - measure.computed_mm) for measure in report.measures
    )


def test_the_field_check_needs_no_numpy():
    program = "import sys, geometry.checks; print('numpy' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"


@pytest.mark.parametrize("included", [180.0, 180.0 - 1e-12, 179.9999])
def test_straight_pipe_is_checked_like_any_reading(included):
    """36 and 24 in one line are 60 end to end; a supplement of nothing can't have been read."""
    assert check_reading(reading(included=included, closing=60.0)).closes
    assert not check_reading(reading(included=included, closing=55.0)).closes


LENGTH = st.floats(1e-6, 9e5) | st.sampled_from([FOOT_MM, 3 * FOOT_MM])
MAYBE = st.none() | LENGTH


@given(
    a=LENGTH,
    b=LENGTH,
    included=st.floats(1e-9, 180.0) | st.sampled_from([90.0, 180.0 - 1e-12, 180.0, 180.0 + 5e-10]),
    c=MAYBE,
    d=MAYBE,
    e=MAYBE,
    burn=st.sampled_from([0.0, IN, 4 * IN]),
)
@settings(max_examples=300, deadline=None)
def test_whatever_was_read_is_answered_and_never_raises(a, b, included, c, d, e, burn):
    measured = CheckInput(
        leg_a_mm=a,
        leg_b_mm=b,
        included_deg=included,
        closing_mm=c,
        mark_to_end_b_mm=d,
        back_mark_to_end_b_mm=e,
        burn_a_mm=burn,
        burn_b_mm=burn,
    )
    report = check_reading(measured)
    assert report.checked == any(check is not None for check in (c, d, e))
    assert isfinite(report.tolerance_mm)
    assert report.closes or report.findings
