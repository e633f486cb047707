"""The least-squares adjustment of one tie-in's readings."""

from math import cos, radians, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.adjust import (
    CheckError,
    CheckInput,
    Readings,
    absorb,
    adjust,
    adjusted_reading,
    computed_checks,
    distance_with_slopes,
    variances_of,
)
from geometry.instruments import USUAL_SIGMAS

LEGS = st.floats(330.0, 2000.0)
INCLUDED = st.floats(40.0, 175.0)


def by_normal_equations(leg_a, leg_b, included_deg, checks):
    """Adjust by Gauss-Newton on the full normal equations, with slopes taken numerically."""
    start = np.array([leg_a, leg_b, radians(included_deg)])
    sigmas = np.array([USUAL_SIGMAS.tape_mm] * 2 + [radians(USUAL_SIGMAS.protractor_deg)])

    def residuals(at):
        a, b, g = at
        sides = [sqrt(leg * leg + b * b - 2 * leg * b * cos(g)) for leg in (a, 304.8, a - 304.8)]
        off = [(side - read) / USUAL_SIGMAS.closing_mm for side, read in zip(sides, checks, strict=True) if read]
        return np.concatenate([(at - start) / sigmas, off])

    at = start.copy()
    for _ in range(30):
        steps = np.diag([1e-4, 1e-4, 1e-7])
        slopes = np.column_stack([(residuals(at + step) - residuals(at - step)) / (2 * step.sum()) for step in steps])
        at = at - np.linalg.solve(slopes.T @ slopes, slopes.T @ residuals(at))
    return at, residuals(at) @ residuals(at), np.linalg.inv(slopes.T @ slopes)


@given(LEGS, LEGS, INCLUDED, st.lists(st.floats(-12.0, 12.0), min_size=3, max_size=3), st.integers(1, 7))
def test_the_adjustment_equals_the_normal_equations_of_another_method(a, b, included, off, which):
    readings = Readings(a, b, radians(included), (None, None, None))
    rows = computed_checks(readings, 304.8)
    checks = [row[0] + more if which >> i & 1 else None for i, (row, more) in enumerate(zip(rows, off, strict=True))]
    if any(check is not None and check < 50.0 for check in checks):
        return
    measured = CheckInput(
        leg_a_mm=a,
        leg_b_mm=b,
        included_deg=included,
        closing_mm=checks[0],
        mark_to_end_b_mm=checks[1],
        back_mark_to_end_b_mm=checks[2],
    )
    made = adjusted_reading(measured)
    point, statistic, spread = by_normal_equations(a, b, included, checks)
    assert made.leg_a_mm == pytest.approx(point[0], abs=1e-3)
    assert made.leg_b_mm == pytest.approx(point[1], abs=1e-3)
    assert radians(made.included_deg) == pytest.approx(point[2], abs=1e-5)
    assert made.statistic == pytest.approx(statistic, rel=1e-3, abs=1e-4)
    assert made.sigma_a_mm == pytest.approx(sqrt(spread[0, 0]), rel=1e-3)
    assert radians(made.sigma_included_deg) == pytest.approx(sqrt(spread[2, 2]), rel=1e-3)


@given(LEGS, LEGS, INCLUDED)
def test_slopes_are_those_of_the_plain_cosine_law(a, b, included):
    g = radians(included)

    def side(a, b, g):
        return sqrt(a * a + b * b - 2 * a * b * cos(g))

    third, per_a, per_b, per_g = distance_with_slopes(a, b, g)
    assert third == pytest.approx(side(a, b, g), rel=1e-9)
    assert per_a == pytest.approx((side(a + 0.01, b, g) - side(a - 0.01, b, g)) / 0.02, abs=1e-5)
    assert per_b == pytest.approx((side(a, b + 0.01, g) - side(a, b - 0.01, g)) / 0.02, abs=1e-5)
    assert per_g == pytest.approx((side(a, b, g + 1e-5) - side(a, b, g - 1e-5)) / 2e-5, rel=1e-5, abs=1e-2)


def test_equal_legs_almost_folded_keep_their_digits():
    # 2 L sin(g/2) with g = 1e-6 degrees: the plain cosine law has lost every digit here.
    third = distance_with_slopes(1000.0, 1000.0, radians(1e-6))[0]
    assert third == pytest.approx(2000.0 * radians(0.5e-6), rel=1e-12)


def test_readings_that_agree_are_left_alone():
    measured = CheckInput(leg_a_mm=300.0, leg_b_mm=400.0, included_deg=90.0, closing_mm=500.0)
    made = adjusted_reading(measured)
    assert (made.leg_a_mm, made.leg_b_mm) == pytest.approx((300.0, 400.0), abs=1e-9)
    assert made.statistic == pytest.approx(0.0, abs=1e-12)


def test_without_a_check_nothing_is_adjusted():
    made = adjusted_reading(CheckInput(leg_a_mm=300.0, leg_b_mm=400.0, included_deg=77.0))
    assert (made.leg_a_mm, made.leg_b_mm, made.included_deg) == pytest.approx((300.0, 400.0, 77.0))
    assert made.checks == 0
    assert made.sigma_a_mm == pytest.approx(USUAL_SIGMAS.tape_mm)


def test_one_check_corrects_all_readings_by_one_and_the_same_share_of_doubt():
    """Trap of one closing measure: A, B, angle and C are one check, so all standardized corrections are equal."""
    measured = CheckInput(leg_a_mm=914.4, leg_b_mm=609.6, included_deg=135.0, closing_mm=1420.0)
    made = adjusted_reading(measured)
    tape, turn = USUAL_SIGMAS.tape_mm, USUAL_SIGMAS.protractor_deg
    shares = [
        abs(made.leg_a_mm - 914.4) / sqrt(tape**2 - made.sigma_a_mm**2),
        abs(made.leg_b_mm - 609.6) / sqrt(tape**2 - made.sigma_b_mm**2),
        abs(made.included_deg - 135.0) / sqrt(turn**2 - made.sigma_included_deg**2),
        sqrt(made.statistic),
    ]
    assert max(shares) == pytest.approx(min(shares), rel=1e-2)


def test_a_tighter_protractor_moves_the_angle_less():
    read = Readings(914.4, 609.6, radians(135), (1420.0, None, None))
    loose = adjust(read, mark=304.8, variances=variances_of(USUAL_SIGMAS), check_variance=4.0)
    tight = adjust(read, mark=304.8, variances=(2.5, 2.5, radians(0.1) ** 2), check_variance=4.0)
    assert abs(tight.included_deg - 135) < abs(loose.included_deg - 135)


def test_the_order_of_the_checks_does_not_matter():
    rows = [(0.9, 0.8, 300.0, 5.0), (0.0, 0.9, 150.0, -2.0), (0.8, 0.9, 200.0, 1.0)]
    forward = absorb(rows, (2.5, 2.5, 1e-4), 4.0)
    backward = absorb(rows[::-1], (2.5, 2.5, 1e-4), 4.0)
    assert np.allclose(np.hstack(forward), np.hstack(backward), rtol=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [{"leg_a_mm": 0.0}, {"leg_b_mm": -1.0}, {"included_deg": 0.0}, {"included_deg": 181.0}, {"closing_mm": 0.0},
     {"leg_a_mm": float("nan")}, {"included_deg": float("inf")}, {"significance": 0.02}],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_in_words(wrong):
    with pytest.raises(CheckError, match="must be"):
        CheckInput(**({"leg_a_mm": 900.0, "leg_b_mm": 600.0, "included_deg": 135.0} | wrong))


def test_straight_pipe_is_a_reading_like_any_other():
    made = adjusted_reading(CheckInput(leg_a_mm=900.0, leg_b_mm=600.0, included_deg=180.0, closing_mm=1500.0))
    assert made.included_deg == pytest.approx(180.0)
