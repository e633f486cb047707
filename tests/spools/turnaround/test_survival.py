"""Percentiles with and without open work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spools.turnaround.survival import Duration, kaplan_meier, percentile, spread

amounts = st.lists(st.integers(0, 60), min_size=1, max_size=40)


def test_open_work_keeps_the_tail():
    finished = [Duration(hours, finished=True) for hours in (2, 3, 4, 5)]
    still_open = [Duration(hours, finished=False) for hours in (10, 12)]
    assert kaplan_meier(finished).percentile(85) == 5
    assert kaplan_meier(finished + still_open).percentile(85) is None


def test_young_open_work_does_not_move_the_median():
    finished = [Duration(hours, finished=True) for hours in (2, 3, 4, 5)]
    assert kaplan_meier([*finished, Duration(1, finished=False)]).percentile(50) == 3


def test_open_work_of_exactly_that_age_counts_as_still_in_work():
    curve = kaplan_meier([Duration(4, finished=True), Duration(4, finished=False)])
    assert curve.steps[0].at_risk == 2
    assert curve.open_part_at(4) == 0.5
    assert curve.open_part_at(3.9) == 1.0


def test_no_work_gives_no_percentile():
    assert kaplan_meier([]).percentile(50) is None
    assert percentile([], 50) is None
    assert spread([]).p50 is None


def test_a_percentile_is_a_value_that_occurred():
    assert percentile(list(range(1, 21)), 85) == 17
    assert percentile(list(range(1, 21)), 95) == 19
    assert percentile([7], 1) == 7


@pytest.mark.parametrize("percent", [50, 85, 90, 95])
def test_both_percentiles_are_one_at_every_count(percent: int):
    for count in range(1, 120):
        curve = kaplan_meier(Duration(value, finished=True) for value in range(count))
        assert curve.percentile(percent) == percentile(range(count), percent)


def test_percent_must_be_whole_and_in_range():
    with pytest.raises(ValueError, match="1 to 100"):
        percentile([1, 2], 0)


@given(amounts, st.integers(1, 100))
def test_with_nothing_open_both_percentiles_are_one(values: list[int], percent: int):
    curve = kaplan_meier([Duration(value, finished=True) for value in values])
    assert curve.percentile(percent) == percentile(values, percent)


@given(st.lists(st.tuples(st.integers(0, 60), st.booleans()), max_size=40))
def test_the_open_part_only_ever_falls(work: list[tuple[int, bool]]):
    curve = kaplan_meier([Duration(amount, done) for amount, done in work])
    parts = [1.0, *(step.open_part for step in curve.steps)]
    assert parts == sorted(parts, reverse=True)
    assert all(0 <= part <= 1 for part in parts)
    assert curve.n == len(work)
