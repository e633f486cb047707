"""The finish forecast: plain cases that can be counted by hand, its laws, and its refusals."""

import random
import subprocess
import sys
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.forecast import ForecastError, SureDate, WorkLeft, forecast, trip_odds
from spools.turnaround.past import PastDay
from spools.turnaround.shifts import Calendar
from spools.turnaround.survival import Duration
from tests.spools.turnaround.a_shop import NEW_YORK, SHOP, WEEK, day, local

MONDAY_MORNING = local("2026-11-02 05:00")
DAYS = SHOP.working_days(day("2026-10-05"), day("2026-10-30"))


def steady(*, measured: int, accepted: int, days: int = 15) -> tuple[PastDay, ...]:
    return tuple(PastDay(when, measured, accepted) for when in DAYS[-days:])


def days_of(dates: tuple[SureDate, ...]) -> list[str]:
    return [str(sure.day) for sure in dates]


def test_a_steady_shop_finishes_when_division_says():
    found = forecast(
        WorkLeft(0, 45), history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50
    )
    assert days_of(found.accepted) == ["2026-11-06"] * 3  # ten a day from Monday: 45 on Friday


def test_weekends_and_closed_days_are_skipped():
    calendar = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2026-11-06")}))
    found = forecast(
        WorkLeft(0, 45), history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=calendar, seed=1, runs=50
    )
    assert days_of(found.accepted) == ["2026-11-09"] * 3


def test_a_day_that_has_begun_is_not_counted_again():
    found = forecast(
        WorkLeft(0, 10),
        history=steady(measured=0, accepted=10),
        at=local("2026-11-02 09:00"),
        calendar=SHOP,
        seed=1,
        runs=50,
    )
    assert days_of(found.accepted) == ["2026-11-03"] * 3


def test_the_shop_can_not_finish_what_is_not_measured():
    found = forecast(
        WorkLeft(20, 0), history=steady(measured=4, accepted=50), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50
    )
    assert days_of(found.accepted) == ["2026-11-09"] * 3  # measured by Friday, the last four accepted on Monday
    assert found.waiting_for_field_part > 0.5


def test_a_shop_that_has_enough_never_waits_for_the_field():
    found = forecast(
        WorkLeft(20, 100), history=steady(measured=4, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50
    )
    assert found.waiting_for_field_part == 0.0


def test_delivery_is_acceptance_and_a_past_trip():
    work = WorkLeft(0, 10, trips=(Duration(4, finished=True), Duration(4, finished=True)))
    found = forecast(work, history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50)
    assert days_of(found.accepted) == ["2026-11-02"] * 3
    assert days_of(found.delivered) == ["2026-11-06"] * 3


def test_a_trip_still_out_is_waited_for_even_when_all_is_accepted():
    work = WorkLeft(0, 0, trips=(Duration(2, finished=True), Duration(9, finished=True), Duration(3, finished=False)))
    found = forecast(work, history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50)
    assert days_of(found.accepted) == ["2026-11-01"] * 3  # yesterday: nothing is left
    assert days_of(found.delivered) == ["2026-11-07"] * 3  # out for 3 days, 9 in all is the only one so long


def test_a_trip_out_longer_than_most_is_compared_only_with_the_longer_ones():
    work = WorkLeft(
        0, 0, trips=(*(Duration(2, finished=True),) * 9, Duration(9, finished=True), Duration(3, finished=False))
    )
    found = forecast(work, history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=200)
    assert days_of(found.delivered) == ["2026-11-07"] * 3


def test_without_any_past_trip_no_delivery_date_is_given():
    work = WorkLeft(0, 10, trips=(Duration(3, finished=False),))
    assert (
        forecast(
            work, history=steady(measured=0, accepted=10), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=50
        ).delivered
        == ()
    )


def test_whole_days_are_drawn_so_dates_lie_between_the_best_and_the_worst():
    history = tuple(PastDay(when, 0, 5 if number % 2 else 15) for number, when in enumerate(DAYS[-10:]))
    found = forecast(WorkLeft(0, 30), history=history, at=MONDAY_MORNING, calendar=SHOP, seed=7)
    middle = found.accepted[0].day
    assert day("2026-11-03") < middle < day("2026-11-09")  # type: ignore[operator]
    # done on Tuesday only by two days of 15: a quarter of the runs; 50 % sure is then Wednesday or later
    assert found.fan[1].left[0] > 0


def test_the_chance_of_a_date_is_the_one_that_can_be_counted():
    history = tuple(PastDay(when, 0, 5 if number % 2 else 15) for number, when in enumerate(DAYS[-10:]))
    found = forecast(WorkLeft(0, 20), history=history, at=MONDAY_MORNING, calendar=SHOP, seed=7)
    # two days do unless both are of 5 (1 in 4 misses), three unless all are (1 in 8), four always:
    # Tuesday 75 % sure, Wednesday 87.5 %, Thursday all
    assert days_of(found.accepted) == ["2026-11-03", "2026-11-04", "2026-11-05"]


def test_the_same_seed_gives_the_same_dates_and_the_basis_prints_it():
    history = _uneven()
    work = WorkLeft(64, 45, trips=(Duration(4, finished=True), Duration(7, finished=True)))
    one, two = (
        forecast(work, history=history, at=MONDAY_MORNING, calendar=SHOP, seed=4711, runs=500) for _ in range(2)
    )
    assert one == two
    assert one.say_basis() == "500 runs drawn from 15 working days, 2026-10-12 to 2026-10-30; seed 4711"


def test_only_the_last_fifteen_days_are_drawn_from():
    old = tuple(replace(past, accepted=1000) for past in steady(measured=0, accepted=1, days=18)[:3])
    found = forecast(
        WorkLeft(0, 5), history=old + steady(measured=0, accepted=1), at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=200
    )
    assert days_of(found.accepted) == ["2026-11-06"] * 3


def test_fewer_than_eight_days_give_no_date_and_say_when_to_look_again():
    with pytest.raises(ForecastError, match="Look again in 2 working days"):
        forecast(
            WorkLeft(1, 1), history=steady(measured=1, accepted=1, days=6), at=MONDAY_MORNING, calendar=SHOP, seed=1
        )


def test_a_shop_that_accepted_nothing_gets_no_date():
    with pytest.raises(ForecastError, match="No spool was accepted"):
        forecast(WorkLeft(0, 1), history=steady(measured=1, accepted=0), at=MONDAY_MORNING, calendar=SHOP, seed=1)


def test_unmeasured_tie_ins_need_measuring_to_get_a_date():
    with pytest.raises(ForecastError, match="until measuring goes on"):
        forecast(WorkLeft(3, 1), history=steady(measured=0, accepted=4), at=MONDAY_MORNING, calendar=SHOP, seed=1)


def test_what_lies_beyond_the_horizon_has_no_date():
    history = (*steady(measured=0, accepted=0, days=14), PastDay(DAYS[-1], 0, 1))
    found = forecast(WorkLeft(0, 400), history=history, at=MONDAY_MORNING, calendar=SHOP, seed=1, runs=20)
    assert days_of(found.accepted) == ["None"] * 3


def test_trips_still_out_weigh_on_the_longer_ones():
    odds = trip_odds([Duration(2, finished=True), Duration(3, finished=False), Duration(9, finished=False)])
    assert odds == [(2, pytest.approx(1 / 3)), (9, pytest.approx(2 / 3))]


def test_a_page_without_a_forecast_does_not_load_numpy():
    program = (
        "import sys, spools.turnaround.forecast, spools.turnaround.charts.finish_fan; sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


def _uneven() -> tuple[PastDay, ...]:
    draw = random.Random(11)
    return tuple(PastDay(when, draw.randint(2, 18), draw.randint(0, 15)) for when in DAYS[-15:])


@given(st.integers(0, 80), st.integers(0, 80), st.integers(1, 10_000))
@settings(max_examples=25, deadline=None)
def test_surer_dates_are_never_earlier_and_delivery_never_before_acceptance(field: int, shop: int, seed: int):
    work = WorkLeft(
        field, shop, trips=(Duration(3, finished=True), Duration(5, finished=False), Duration(8, finished=True))
    )
    found = forecast(work, history=_uneven(), at=MONDAY_MORNING, calendar=SHOP, seed=seed, runs=200)
    for dates in (found.accepted, found.delivered):
        known = [sure.day for sure in dates]
        assert known == sorted(known)  # type: ignore[type-var]
    for accepted, delivered in zip(found.accepted, found.delivered, strict=True):
        assert accepted.day <= delivered.day  # type: ignore[operator]
    lefts = [row.left for row in found.fan]
    assert all(row == tuple(sorted(row)) for row in lefts)
    assert all(one >= two for before, after in pairwise(lefts) for one, two in zip(before, after, strict=True))


@given(st.integers(1, 60), st.integers(1, 30))
@settings(max_examples=25, deadline=None)
def test_more_work_is_never_done_sooner(shop: int, more: int):
    less = forecast(WorkLeft(0, shop), history=_uneven(), at=MONDAY_MORNING, calendar=SHOP, seed=3, runs=300)
    whole = forecast(WorkLeft(0, shop + more), history=_uneven(), at=MONDAY_MORNING, calendar=SHOP, seed=3, runs=300)
    # the draws of the two differ once some runs have ended, so allow a day of chance
    assert whole.accepted[1].day >= less.accepted[1].day - timedelta(days=1)  # type: ignore[operator]
