"""Naming the mistake behind readings that don't agree."""

from dataclasses import replace
from math import cos, radians, sqrt

import pytest

from geometry.agreement import agrees
from geometry.blunders import smallest_seen, suspects
from geometry.checks import CheckInput, MeasuringSigmas
from tests.geometry.simulated_tie_ins import tally

IN = 25.4
COUNT = 300
SEED = 26


def side(a, b, included):
    """Return the third side by the plain cosine law."""
    return sqrt(a * a + b * b - 2 * a * b * cos(radians(included)))


def exact(a=36.0, b=24.0, included=135.0, checks="CDE", burn=2.0):
    """Return perfect readings of a tie-in given in inches."""
    c, d, e = (side(leg, b, included) * IN for leg in (a, 12.0, a - 12.0))
    return CheckInput(
        leg_a_mm=a * IN,
        leg_b_mm=b * IN,
        included_deg=included,
        closing_mm=c if "C" in checks else None,
        mark_to_end_b_mm=d if "D" in checks else None,
        back_mark_to_end_b_mm=e if "E" in checks else None,
        burn_a_mm=burn * IN,
        burn_b_mm=burn * IN,
    )


def codes(measured):
    assert not agrees(measured)
    return [suspect.code for suspect in suspects(measured)]


def test_the_burned_inches_on_leg_a_are_named_with_three_checks():
    good = exact()
    assert codes(replace(good, leg_a_mm=good.leg_a_mm + 2 * IN)) == ["burn_left_in_a"]


def test_the_burned_inches_on_leg_b_are_named_with_two_checks():
    good = exact(checks="CD")
    assert codes(replace(good, leg_b_mm=good.leg_b_mm + 2 * IN)) == ["burn_left_in_b"]


def test_the_burned_inches_on_both_legs_are_named():
    good = exact()
    bad = replace(good, leg_a_mm=good.leg_a_mm + 2 * IN, leg_b_mm=good.leg_b_mm + 2 * IN)
    assert codes(bad) == ["burn_left_in_both"]


def test_the_burned_inches_in_c_are_named_with_three_checks():
    good = exact()
    assert codes(replace(good, closing_mm=good.closing_mm + 2 * IN)) == ["burn_left_in_c"]


def test_a_burn_in_every_check_measure_is_told_from_one_in_the_legs():
    good = exact(burn=4.0)
    bad = replace(
        good,
        closing_mm=good.closing_mm + 4 * IN,
        mark_to_end_b_mm=good.mark_to_end_b_mm + 4 * IN,
        back_mark_to_end_b_mm=good.back_mark_to_end_b_mm + 4 * IN,
    )
    assert codes(bad) == ["burn_left_in_checks"]


def test_different_burns_on_the_two_sides_are_kept_apart():
    good = replace(exact(burn=1.0), burn_b_mm=4 * IN)
    assert codes(replace(good, leg_b_mm=good.leg_b_mm + 4 * IN)) == ["burn_left_in_b"]


def test_the_supplement_is_named_and_the_right_angle_offered():
    good = exact(included=140.0, a=30.0, b=18.0)
    bad = replace(good, included_deg=40.0)
    assert codes(bad) == ["supplement_read"]
    assert suspects(bad)[0].should_be == pytest.approx(140.0)


@pytest.mark.parametrize(("more", "code"), [(12, "foot_long_a"), (-12, "foot_short_a")])
def test_a_foot_on_leg_a_is_named_either_way(more, code):
    good = exact()
    bad = replace(good, leg_a_mm=good.leg_a_mm + more * IN)
    assert codes(bad) == [code]
    assert suspects(bad)[0].should_be == pytest.approx(36 * IN)


@pytest.mark.parametrize(("more", "code"), [(12, "foot_long_b"), (-12, "foot_short_b")])
def test_a_foot_on_leg_b_is_named_either_way(more, code):
    good = exact()
    assert codes(replace(good, leg_b_mm=good.leg_b_mm + more * IN)) == [code]


@pytest.mark.parametrize(("more", "code"), [(12, "foot_long_c"), (-12, "foot_short_c")])
def test_a_foot_on_c_is_named_either_way(more, code):
    good = exact()
    assert codes(replace(good, closing_mm=good.closing_mm + more * IN)) == [code]


def test_an_inch_short_is_named():
    good = exact()
    assert codes(replace(good, leg_b_mm=good.leg_b_mm - IN)) == ["inch_short_b"]


def test_a_fraction_read_double_is_named_with_what_it_should_be():
    # 24 7/16 read as 24 7/8, by good instruments.
    sharp = MeasuringSigmas(tape_mm=0.5, protractor_deg=0.1, closing_mm=0.6)
    good = replace(exact(a=36.0, b=24.4375, burn=2.0), sigmas=sharp)
    bad = replace(good, leg_b_mm=24.875 * IN)
    assert codes(bad) == ["fraction_misread_b"]
    assert suspects(bad)[0].words == "the fraction of leg B: 7/16 read as 7/8"
    assert suspects(bad)[0].should_be == pytest.approx(24.4375 * IN)


def test_swapped_legs_are_named_once_d_is_taken():
    good = exact(a=30.0, b=19.5, included=125.0, checks="CD")
    assert codes(replace(good, leg_a_mm=19.5 * IN, leg_b_mm=30.0 * IN)) == ["legs_swapped"]


def test_swapped_legs_close_with_c_alone():
    good = exact(a=30.0, b=19.5, included=125.0, checks="C")
    assert agrees(replace(good, leg_a_mm=19.5 * IN, leg_b_mm=30.0 * IN))


def test_one_closing_measure_cannot_tell_leg_a_from_leg_b():
    good = exact(checks="C", burn=1.0)
    named = codes(replace(good, leg_a_mm=good.leg_a_mm + IN))
    assert {"burn_left_in_a", "burn_left_in_b"} <= set(named)


def test_an_inch_left_in_a_and_in_c_hides():
    """Trap: burned on leg A and on C, the errors nearly cancel; C must be read from the hook."""
    good = exact(checks="C", burn=1.0)
    assert agrees(replace(good, leg_a_mm=good.leg_a_mm + IN, closing_mm=good.closing_mm + IN))


def test_a_leg_wrong_by_an_odd_amount_is_found_by_leaving_it_out():
    good = exact()
    bad = replace(good, leg_b_mm=good.leg_b_mm + 5.3 * IN)
    assert codes(bad) == ["misread_b"]
    assert suspects(bad)[0].should_be == pytest.approx(24 * IN, abs=4.0)


def test_an_angle_wrong_by_an_odd_amount_is_found_by_leaving_it_out():
    good = exact()
    bad = replace(good, included_deg=118.0)
    assert codes(bad) == ["misread_included"]
    assert suspects(bad)[0].should_be == pytest.approx(135.0, abs=0.5)


def test_two_mistakes_at_once_are_not_given_one_name():
    good = exact(a=40.0, b=30.0, included=110.0)
    bad = replace(good, leg_a_mm=good.leg_a_mm + 7.3 * IN, leg_b_mm=good.leg_b_mm - 4.7 * IN)
    assert codes(bad) == []


def test_smallest_errors_match_the_figures_measured_by_simulation_elsewhere():
    """36 x 24 at 135, tape 1/16 in for legs and C alike: A 0.41, 0.50 and 0.78 in with 0.25, 0.5 and 1 degree."""
    for protractor, inches, degrees_seen in ((0.25, 0.41, 2.0), (0.5, 0.50, 2.5), (1.0, 0.78, 3.9)):
        sigmas = MeasuringSigmas(tape_mm=IN / 16, protractor_deg=protractor, closing_mm=IN / 16)
        seen = {one.number: one.size for one in smallest_seen(replace(exact(checks="C"), sigmas=sigmas))}
        assert seen["A"] / IN == pytest.approx(inches, abs=0.01)
        assert seen["included"] == pytest.approx(degrees_seen, abs=0.1)


def test_a_blind_leg_is_never_seen_by_c():
    """12 x 24 at 60: A = B cos g, so C can't see leg A at all."""
    seen = {one.number: one.size for one in smallest_seen(exact(a=12.0, b=24.0, included=60.0, checks="C"))}
    assert seen["A"] is None
    assert seen["B"] is not None


def test_a_shallow_turn_hides_the_angle_from_c():
    seen = {one.number: one.size for one in smallest_seen(exact(a=24.0, b=24.0, included=170.0, checks="C"))}
    assert seen["included"] > 10.0


def test_the_smallest_error_is_found_eight_times_in_ten():
    """Draw readings with an error of just that size in A, either way: about 80 % must be found."""
    import random

    rng = random.Random(3)
    good = exact(checks="C")
    size = smallest_seen(good)[0].size
    sigmas = good.sigmas
    found = 0
    for trial in range(2000):
        noisy = replace(
            good,
            leg_a_mm=good.leg_a_mm + rng.gauss(0, sigmas.tape_mm) + size * (1 if trial % 2 else -1),
            leg_b_mm=good.leg_b_mm + rng.gauss(0, sigmas.tape_mm),
            included_deg=good.included_deg + rng.gauss(0, sigmas.protractor_deg),
            closing_mm=good.closing_mm + rng.gauss(0, sigmas.closing_mm),
        )
        found += not agrees(noisy)
    assert found / 2000 == pytest.approx(0.8, abs=0.03)


# The bars on simulated tie-ins; the full 2,000 of each kind are printed by tests/benchmarks/blunder_table.py.


@pytest.mark.parametrize("checks", ["C", "CD", "CE", "CDE"])
def test_false_alarms_stay_under_two_percent(checks):
    assert tally("none", checks, COUNT, SEED).found <= 0.02


@pytest.mark.parametrize(
    "kind", ["burn_left_in_a", "burn_left_in_b", "burn_left_in_c", "supplement_read", "foot_a", "legs_swapped"]
)
def test_with_three_checks_the_right_mistake_is_named_alone(kind):
    seen = tally(kind, "CDE", COUNT, SEED)
    assert seen.found >= 0.95
    assert seen.right >= 0.93
    assert seen.wrong <= 0.02


@pytest.mark.parametrize(
    ("kind", "least"),
    [("burn_left_in_a", 0.95), ("burn_left_in_b", 0.85), ("burn_left_in_c", 0.95), ("supplement_read", 0.95),
     ("foot_a", 0.95), ("foot_b", 0.95)],
)  # fmt: skip
def test_with_c_alone_mistakes_are_found_and_seldom_given_a_wrong_name(kind, least):
    seen = tally(kind, "C", COUNT, SEED)
    assert seen.found >= least
    assert seen.wrong <= 0.02
    assert seen.among >= seen.found - 0.02
