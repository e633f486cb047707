"""Shares, open-work curves, percentiles and intervals against published examples and reference libraries."""

import random

import numpy as np
import pytest
from scipy import stats

from spools.turnaround.saved import mean_interval, t_95
from spools.turnaround.shares import wilson
from spools.turnaround.survival import Duration, kaplan_meier, percentile

# Source: Freireich et al., The effect of 6-mercaptopurine on the duration of steroid-induced remissions in acute
# leukemia, Blood 21 (1963) 699-716, as given in Cox and Oakes, Analysis of Survival Data (1984), p. 7; remission in
# weeks of the 21 treated patients, False where still in remission. The data and the estimates below are the standard
# worked example of the product-limit method; both written from memory, the estimates checked again by scipy below.
REMISSION_WEEKS = (
    *((6, True), (6, True), (6, True), (6, False), (7, True), (9, False), (10, True), (10, False), (11, False)),
    *((13, True), (16, True), (17, False), (19, False), (20, False), (22, True), (23, True)),
    *((25, False), (32, False), (32, False), (34, False), (35, False)),
)
REMISSION_CURVE = (  # week, at risk, relapsed, part still in remission
    (6, 21, 3, 0.857),
    (7, 17, 1, 0.807),
    (10, 15, 1, 0.753),
    (13, 12, 1, 0.690),
    (16, 11, 1, 0.627),
    (22, 7, 1, 0.538),
    (23, 6, 1, 0.448),
)


def test_the_curve_equals_the_published_leukemia_example():
    curve = kaplan_meier(Duration(week, finished=relapsed) for week, relapsed in REMISSION_WEEKS)
    found = [(step.amount, step.at_risk, step.finished, round(step.open_part, 3)) for step in curve.steps]
    assert found == list(REMISSION_CURVE)


def test_the_median_equals_the_published_leukemia_example_and_the_tail_is_not_reached():
    curve = kaplan_meier(Duration(week, finished=relapsed) for week, relapsed in REMISSION_WEEKS)
    assert curve.percentile(50) == 23
    assert curve.percentile(85) is None
    assert (curve.n_finished, curve.n_open) == (9, 12)


@pytest.mark.parametrize("seed", range(20))
def test_the_curve_equals_scipy_on_random_work(seed: int):
    draw = random.Random(seed)
    work = [(draw.randint(1, 30), draw.random() < 0.7) for _ in range(draw.randint(5, 120))]
    finished = [amount for amount, done in work if done]
    still_open = [amount for amount, done in work if not done]
    reference = stats.ecdf(stats.CensoredData(uncensored=finished, right=still_open)).sf
    curve = kaplan_meier(Duration(amount, finished=done) for amount, done in work)
    for amount in range(32):
        assert curve.open_part_at(amount) == pytest.approx(float(reference.evaluate(amount)), abs=1e-12)


@pytest.mark.parametrize(
    ("hits", "n", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_the_interval_equals_newcombes_published_cases(hits: int, n: int, low: float, high: float):
    # Source: R. G. Newcombe, Two-sided confidence intervals for the single proportion: comparison of seven methods,
    # Statistics in Medicine 17 (1998) 857-872, table I, method 3 (figures from memory).
    assert wilson(hits, n) == (pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))


@pytest.mark.parametrize("n", [1, 2, 19, 20, 221, 5000])
def test_the_interval_equals_scipy(n: int):
    for hits in sorted({0, 1, n // 3, n // 2, n - 1, n}):
        reference = stats.binomtest(hits, n).proportion_ci(confidence_level=0.95, method="wilson")
        assert wilson(hits, n) == (pytest.approx(reference.low, abs=1e-12), pytest.approx(reference.high, abs=1e-12))


@pytest.mark.parametrize("seed", range(10))
def test_percentiles_equal_numpys_inverse_of_the_distribution(seed: int):
    draw = random.Random(seed)
    values = [draw.uniform(0, 50) for _ in range(draw.randint(1, 200))]
    for percent in (1, 10, 25, 50, 85, 90, 95, 99, 100):
        if percent * len(values) % 100 and percent < 100:  # at a whole rank numpy's float product may land one too high
            assert percentile(values, percent) == np.percentile(values, percent, method="inverted_cdf")


@pytest.mark.parametrize("n", [20, 100, 200])
def test_at_whole_ranks_the_percentile_is_exactly_that_rank(n: int):
    for percent in (5, 10, 25, 50, 85, 90, 95, 100):
        assert percentile(range(1, n + 1), percent) == percent * n // 100


@pytest.mark.parametrize("degrees", [9, 10, 14, 29, 60, 250])
def test_students_t_is_good_to_a_thousandth(degrees: int):
    assert t_95(degrees) == pytest.approx(float(stats.t.ppf(0.975, degrees)), abs=1e-3)


def test_the_interval_of_a_mean_equals_scipy():
    values = (28.0, 31.0, 35.0, 22.0, 40.0, 30.0, 33.0, 27.0, 36.0, 38.0)
    reference = stats.ttest_1samp(values, 0).confidence_interval(0.95)
    assert mean_interval(values) == (pytest.approx(reference.low, abs=2e-3), pytest.approx(reference.high, abs=2e-3))
