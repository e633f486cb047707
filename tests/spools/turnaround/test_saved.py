"""Hours saved: always a range, assumed until ten spools were timed by hand."""

import pytest

from spools.turnaround.saved import HandTime, hours_saved

TIMED = (28.0, 31.0, 35.0, 22.0, 40.0, 30.0, 33.0, 27.0, 36.0, 38.0)


def test_until_ten_are_timed_the_range_is_the_assumed_one():
    saved = hours_saved(n=60, here_min=2, hand=HandTime(20, 45, TIMED[:9]))
    assert (saved.low_h, saved.high_h, saved.assumed) == (18.0, 43.0, True)
    assert "ASSUMED" in saved.say()


def test_from_ten_timed_up_the_range_is_that_of_their_mean():
    saved = hours_saved(n=60, here_min=2, hand=HandTime(20, 45, TIMED))
    # mean 32.0, standard deviation sqrt(272 / 9) = 5.497, t for 9 degrees 2.262 (any t table): 32 -/+ 3.932
    assert saved.low_h == pytest.approx(60 * (32 - 3.932 - 2) / 60, abs=0.01)
    assert saved.high_h == pytest.approx(60 * (32 + 3.932 - 2) / 60, abs=0.01)
    assert "ASSUMED" not in saved.say()


def test_hours_can_be_lost_too():
    assert hours_saved(n=60, here_min=30, hand=HandTime(20, 45)).low_h == -10.0


def test_low_above_high_is_refused():
    with pytest.raises(ValueError, match="swap"):
        hours_saved(n=1, here_min=1, hand=HandTime(45, 20))
