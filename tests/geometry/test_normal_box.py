"""Probability that correlated normal errors stay inside their limits."""

from math import erf, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.normal_box import legendre, pair_inside, triple_inside

APART = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def one(low, high):
    return 0.5 * (erf(high / sqrt(2)) - erf(low / sqrt(2)))


def test_nodes_and_weights_agree_with_numpy():
    nodes, weights = np.polynomial.legendre.leggauss(12)
    assert sorted(node for node, _ in legendre(12)) == pytest.approx(list(nodes), abs=1e-14)
    assert sum(weight for _, weight in legendre(12)) == pytest.approx(2.0)
    assert sorted(weight for _, weight in legendre(12)) == pytest.approx(sorted(weights), abs=1e-14)


@given(st.lists(st.floats(-2.0, 2.0), min_size=3, max_size=3), st.floats(0.1, 3.0))
def test_independent_errors_multiply(mean, limit):
    box = ((-limit, limit),) * 3
    product = 1.0
    for middle in mean:
        product *= one(-limit - middle, limit - middle)
    assert triple_inside(tuple(mean), APART, box) == pytest.approx(product, abs=1e-7)


def test_the_quarter_with_correlation_has_its_closed_form():
    """Sheppard: P(x > 0, y > 0) = 1/4 + asin(r) / 2 pi."""
    for r in (-0.9, -0.3, 0.5, 0.99):
        quarter = pair_inside((0.0, 0.0), (1.0, 1.0, r), ((0.0, 50.0), (0.0, 50.0)))
        assert quarter == pytest.approx(0.25 + np.arcsin(r) / (2 * np.pi), abs=1e-6)


def test_the_eighth_with_correlation_has_its_closed_form():
    """P(all three > 0) = 1/8 + (asin r12 + asin r13 + asin r23) / 4 pi."""
    r12, r13, r23 = 0.5, -0.2, 0.4
    covariance = ((1.0, r12, r13), (r12, 1.0, r23), (r13, r23, 1.0))
    eighth = triple_inside((0.0, 0.0, 0.0), covariance, ((0.0, 50.0),) * 3)
    assert eighth == pytest.approx(0.125 + np.arcsin([r12, r13, r23]).sum() / (4 * np.pi), abs=1e-6)


@settings(max_examples=8, deadline=None)
@given(st.lists(st.floats(-1.0, 1.0), min_size=9, max_size=9), st.lists(st.floats(0.2, 2.0), min_size=3, max_size=3))
def test_correlated_errors_agree_with_random_draws(cells, limits):
    mixing = np.array(cells).reshape(3, 3) + 0.2 * np.eye(3)
    covariance = mixing @ mixing.T
    draws = np.random.default_rng(0).standard_normal((100_000, 3)) @ mixing.T
    share = (np.abs(draws) <= limits).all(axis=1).mean()
    box = tuple((-limit, limit) for limit in limits)
    assert triple_inside((0.0, 0.0, 0.0), covariance.tolist(), box) == pytest.approx(share, abs=0.008)


def test_limits_far_from_the_mean_leave_nothing():
    assert triple_inside((9.0, 0.0, 0.0), APART, ((-1.0, 1.0),) * 3) == pytest.approx(0.0, abs=1e-12)


def test_errors_in_lockstep_count_once():
    """Two values that always move together are inside together."""
    together = ((1.0, 1.0, 0.0), (1.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    assert triple_inside((0.0, 0.0, 0.0), together, ((-1.0, 1.0),) * 3) == pytest.approx(one(-1, 1) ** 2, abs=1e-5)


def test_a_value_that_cannot_be_off_lets_the_other_decide():
    inside = pair_inside((0.0, 0.0), (1.0, 0.0, 0.0), ((-1.0, 1.0), (-1.0, 1.0)))
    assert inside == pytest.approx(0.6826895, abs=1e-6)
    assert pair_inside((0.0, 0.0), (0.0, 1.0, 0.0), ((-1.0, 1.0), (-1.0, 1.0))) == pytest.approx(0.6826895, abs=1e-6)
