"""The due time: cut-off, weekends, holidays, clock changes, and that later receipts are never due earlier."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.promise import PromiseRule, counts_from, due_at
from spools.turnaround.shifts import Calendar, Shift, WorkedDay
from tests.spools.turnaround.a_shop import NEW_YORK, ROUND_THE_CLOCK, SHOP, WEEK, day, local, wall

SPLIT = (Shift(time(6), time(10)), Shift(time(10, 30), time(14, 30)))


@pytest.mark.parametrize(
    ("received", "due"),
    [
        ("2026-11-03 10:00", "2026-11-04 10:00"),  # before the cut-off: same time next day
        ("2026-11-03 14:00", "2026-11-04 14:00"),  # at the cut-off still counts
        ("2026-11-03 14:01", "2026-11-05 06:00"),  # after it: from Wednesday 06:00
        ("2026-11-03 22:00", "2026-11-05 06:00"),
        ("2026-11-03 03:00", "2026-11-04 06:00"),  # before the shift: from its start
        ("2026-11-06 10:00", "2026-11-09 10:00"),  # Friday to Monday
        ("2026-11-06 14:01", "2026-11-10 06:00"),  # Friday after the cut-off: from Monday
        ("2026-11-07 10:00", "2026-11-10 06:00"),  # an unstaffed Saturday counts from Monday
        ("2026-12-31 10:00", "2027-01-01 10:00"),  # over the end of the year
    ],
)
def test_due_time_in_a_plain_week(received: str, due: str):
    assert wall(due_at(local(received), calendar=SHOP)) == due


def test_a_holiday_is_skipped():
    calendar = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2026-11-26"), day("2026-11-27")}))
    assert wall(due_at(local("2026-11-25 09:00"), calendar=calendar)) == "2026-11-30 09:00"


def test_an_overtime_saturday_makes_friday_work_due_by_its_end():
    calendar = Calendar(NEW_YORK, WEEK, worked=(WorkedDay(day("2026-11-07"), (Shift(time(6), time(11)),)),))
    assert wall(due_at(local("2026-11-06 13:00"), calendar=calendar)) == "2026-11-07 11:00"


def test_the_same_wall_clock_time_is_due_after_clocks_go_back():
    due = due_at(local("2026-10-30 10:00"), calendar=SHOP)
    assert wall(due) == "2026-11-02 10:00"
    assert due - local("2026-10-30 10:00") == timedelta(days=3, hours=1)


def test_the_same_wall_clock_time_is_due_after_clocks_go_forward():
    due = due_at(local("2026-03-06 10:00"), calendar=SHOP)
    assert wall(due) == "2026-03-09 10:00"
    assert due - local("2026-03-06 10:00") == timedelta(days=2, hours=23)


def test_a_reading_in_the_break_counts_from_the_end_of_the_break():
    calendar = Calendar(NEW_YORK, (SPLIT,) * 5 + ((), ()))
    assert wall(counts_from(local("2026-11-03 10:15"), calendar=calendar)) == "2026-11-03 10:30"


def test_the_cut_off_is_the_shops_own():
    noon = PromiseRule(cut_off=time(12))
    assert wall(due_at(local("2026-11-03 12:30"), calendar=SHOP, rule=noon)) == "2026-11-05 06:00"


def test_a_cut_off_after_the_shift_does_not_make_the_night_count():
    late = PromiseRule(cut_off=time(16))
    assert wall(due_at(local("2026-11-03 15:30"), calendar=SHOP, rule=late)) == "2026-11-05 06:00"


shops = st.sampled_from(
    [
        SHOP,
        Calendar(NEW_YORK, WEEK, frozenset({date(2026, 11, 3)}), (WorkedDay(date(2026, 11, 7), SPLIT[:1]),)),
        Calendar(NEW_YORK, (SPLIT,) * 5 + ((), ())),
        Calendar(NEW_YORK, (ROUND_THE_CLOCK,) * 5 + ((), ())),
        Calendar(NEW_YORK, ((Shift(time(18), time(2)),),) * 5 + ((), ())),
    ]
)
receipts = st.integers(0, 21 * 24 * 60).map(
    lambda minutes: datetime(2026, 10, 24, tzinfo=UTC) + timedelta(minutes=minutes)
)


@given(shops, st.sampled_from([time(10), time(14), time(16)]), receipts, receipts)
@settings(max_examples=300, deadline=None)
def test_a_later_receipt_is_never_due_earlier(calendar: Calendar, cut_off: time, one: datetime, two: datetime):
    first, second = sorted((one, two))
    rule = PromiseRule(cut_off)
    assert due_at(first, calendar=calendar, rule=rule) <= due_at(second, calendar=calendar, rule=rule)


@given(shops, receipts)
@settings(max_examples=200, deadline=None)
def test_due_is_after_receipt_and_on_a_worked_day(calendar: Calendar, received: datetime):
    start = counts_from(received, calendar=calendar)
    due = due_at(received, calendar=calendar)
    assert received <= start < due
    assert calendar.is_staffed(start)
    assert due <= calendar.last_end(calendar.next_working_day(calendar.local(start).date()))
