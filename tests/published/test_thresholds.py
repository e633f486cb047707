"""The limits of the checks against the distributions and a printed table."""

from math import erfc, exp, factorial, pi, sqrt
from statistics import NormalDist

import pytest

from geometry.thresholds import THRESHOLDS


def beyond(limit, freedom):
    """Return the upper tail of chi-squared, by its recurrence from 1 or 2 degrees of freedom."""
    tail = erfc(sqrt(limit / 2)) if freedom % 2 else exp(-limit / 2)
    term = sqrt(2 * limit / pi) * exp(-limit / 2) if freedom % 2 else limit / 2 * exp(-limit / 2)
    for step in range(1 if freedom % 2 else 2, freedom, 2):
        tail += term
        term *= limit / (step + 2)
    return tail


def power(limit, freedom, noncentrality):
    """Return the upper tail of noncentral chi-squared as a Poisson mixture."""
    half = noncentrality / 2
    return sum(exp(-half) * half**j / factorial(j) * beyond(limit, freedom + 2 * j) for j in range(60))


def point(tail, freedom):
    """Return the upper point of chi-squared by bisection."""
    low, high = 0.0, 60.0
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if beyond(middle, freedom) > tail else (low, middle)
    return low


@pytest.mark.parametrize(("freedom", "printed"), [(1, 5.024), (2, 7.378), (3, 9.348)])
def test_critical_values_agree_with_the_printed_table(freedom, printed):
    """NIST/SEMATECH e-Handbook, table 1.3.6.7.4, upper 0.025 (from memory: the table's own three decimals)."""
    assert THRESHOLDS[0.05].critical[freedom - 1] == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize(("freedom", "printed"), [(1, 6.635), (2, 9.210), (3, 11.345)])
def test_critical_values_alone_agree_with_the_printed_table(freedom, printed):
    """NIST/SEMATECH e-Handbook, table 1.3.6.7.4, upper 0.01 (from memory: the table's own three decimals)."""
    assert THRESHOLDS[0.01].critical_alone[freedom - 1] == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize("significance", THRESHOLDS)
@pytest.mark.parametrize("freedom", [1, 2, 3])
def test_critical_values_leave_the_significance_or_half_of_it_beyond(significance, freedom):
    limits = THRESHOLDS[significance]
    assert beyond(limits.critical[freedom - 1], freedom) == pytest.approx(significance / 2, rel=1e-5)
    assert beyond(limits.critical_alone[freedom - 1], freedom) == pytest.approx(significance, rel=1e-5)


@pytest.mark.parametrize("significance", THRESHOLDS)
def test_the_limits_for_a_long_leg_leave_their_share_beyond(significance):
    one, shared = THRESHOLDS[significance].long_leg
    assert 1 - NormalDist().cdf(one) == pytest.approx(1.6 * significance, rel=1e-4)
    assert 1 - NormalDist().cdf(shared) == pytest.approx(1.6 * significance / 2, rel=1e-4)


@pytest.mark.parametrize("significance", THRESHOLDS)
@pytest.mark.parametrize("freedom", [1, 2, 3])
def test_the_noncentrality_is_found_eight_times_in_ten(significance, freedom):
    limit = point(significance, freedom)
    assert power(limit, freedom, THRESHOLDS[significance].power_80[freedom - 1]) == pytest.approx(0.8, abs=1e-5)
