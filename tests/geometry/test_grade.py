"""Fall, slope, and the true included angle of two pipes on grade."""

from math import inf, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.grade import GradeError, check_fall, fall, true_included_deg

slopes = st.floats(-3, 3)


@given(st.floats(0, 1e5), slopes)
def test_run_fall_and_true_length_make_a_right_triangle(run, slope):
    drop = fall(run_mm=run, slope_in_per_ft=slope)
    assert drop.run_mm**2 + drop.fall_mm**2 == pytest.approx(drop.true_length_mm**2, rel=1e-12)
    assert drop.fall_mm == pytest.approx(run * drop.percent / 100, rel=1e-12, abs=1e-12)


@given(st.floats(1, 179), slopes, slopes)
def test_the_true_included_angle_is_that_of_the_two_directions_in_space(plan, branch, main):
    p = np.radians(plan)
    u, v = np.array([1, 0, -main / 12]), np.array([np.cos(p), np.sin(p), -branch / 12])
    u, v = u / np.linalg.norm(u), v / np.linalg.norm(v)
    expected = np.degrees(2 * np.arctan2(np.linalg.norm(u - v), np.linalg.norm(u + v)))
    found = true_included_deg(plan_included_deg=plan, branch_slope_in_per_ft=branch, main_slope_in_per_ft=main)
    assert found == pytest.approx(expected, abs=1e-9)


@given(st.floats(0, 180))
def test_on_the_level_the_plan_is_true(plan):
    level = {"branch_slope_in_per_ft": 0.0, "main_slope_in_per_ft": 0.0}
    assert true_included_deg(plan_included_deg=plan, **level) == pytest.approx(plan, abs=1e-9)


@pytest.mark.parametrize(
    ("nps", "slope", "codes"),
    [
        ("2-1/2", 0.25, []),
        ("2-1/2", 0.24, ["fall_too_small"]),
        ("3", 0.125, []),
        ("6", 0.12, ["fall_too_small"]),
        ("8", 0.0625, []),
        ("24", 0.06, ["fall_too_small"]),
        ("4", 0.0, ["fall_too_small"]),
        ("4", -0.125, ["backfall"]),
    ],
)
def test_a_drain_falls_at_least_as_much_as_its_size_needs(nps, slope, codes):
    assert [finding.code for finding in check_fall(nps=nps, slope_in_per_ft=slope)] == codes


@pytest.mark.parametrize("bad", [nan, inf, -1.0])
def test_a_run_that_is_no_length_is_refused(bad):
    with pytest.raises(GradeError, match="level run"):
        fall(run_mm=bad, slope_in_per_ft=0.25)


def test_a_slope_or_plan_that_is_no_number_is_refused():
    with pytest.raises(GradeError, match="slope"):
        check_fall(nps="4", slope_in_per_ft=nan)
    with pytest.raises(GradeError, match="plan"):
        true_included_deg(plan_included_deg=181, branch_slope_in_per_ft=0, main_slope_in_per_ft=0)
