"""Shares: counts under 20, whole percents that never flatter, and Wilson's interval."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spools.turnaround.shares import Share, wilson


def test_under_twenty_counts_are_said():
    assert Share(17, 19).say() == "17 of 19"
    assert Share(17, 19).percent is None


def test_from_twenty_up_percent_is_said_with_count_and_range():
    assert Share(18, 20).say() == "90 %, 18 of 20 (95 % sure: 70 to 97 %)"


def test_nothing_counted_says_so():
    assert Share(0, 0).say() == "none yet"


def test_one_miss_is_never_rounded_up_to_all():
    assert Share(399, 400).percent == 99
    assert Share(1, 400).percent == 1
    assert (Share(400, 400).percent, Share(0, 400).percent) == (100, 0)


def test_more_hits_than_spools_is_no_share():
    with pytest.raises(ValueError, match="not a share"):
        wilson(3, 2)


@given(st.integers(1, 500).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_the_interval_holds_the_share_and_mirrors(counted: tuple[int, int]):
    hits, n = counted
    low, high = wilson(hits, n)
    assert 0 <= low <= hits / n <= high <= 1
    mirrored_low, mirrored_high = wilson(n - hits, n)
    assert low == pytest.approx(1 - mirrored_high)
    assert high == pytest.approx(1 - mirrored_low)
