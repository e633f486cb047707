"""The month's days on the calendar."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from cutlists.demo.month import DAY_MINUTES, END, month_before
from cutlists.demo.scenario import DUE_BY_WEEK, HOLIDAY

# Every half day of two weeks, over a change to winter time and over one to summer time.
NOWS = [
    start + timedelta(hours=12 * step)
    for start in (datetime(2026, 10, 26, 10, tzinfo=UTC), datetime(2027, 3, 8, 10, tzinfo=UTC))
    for step in range(28)
]


@pytest.mark.parametrize("now", NOWS)
def test_the_month_has_23_days_that_end_before_now(now):
    month = month_before(now)
    assert len(month.days) == 23
    assert month.end <= now
    assert all(before < after for before, after in pairwise(month.days))


@pytest.mark.parametrize("now", NOWS)
def test_nothing_is_worked_between_the_last_day_and_now(now):
    month = month_before(now)
    zone = ZoneInfo("America/Chicago")
    days = (month.days[-1] + timedelta(days=ahead) for ahead in range(1, 8))
    over = {day for day in days if day.weekday() < 5 and datetime.combine(day, END, tzinfo=zone) <= now}
    assert over == set(month.closed)


@pytest.mark.parametrize("now", NOWS)
def test_each_due_week_of_the_calendar_has_its_spools(now):
    month = month_before(now)
    mondays = {}
    for day, (_, count) in month.due_on().items():
        date = month.days[day - 1]
        monday = date - timedelta(days=date.weekday())
        mondays[monday] = mondays.get(monday, 0) + count
    assert tuple(mondays[monday] for monday in sorted(mondays)) == DUE_BY_WEEK


def test_shop_time_leaves_nights_and_the_holiday_out():
    month = month_before(datetime(2026, 11, 28, 10, tzinfo=UTC))
    assert month.tick(HOLIDAY + 1, "06:00") - month.tick(HOLIDAY - 1, "06:00") == DAY_MINUTES
    assert month.moment(month.tick(23, "14:05")) == datetime(2026, 11, 27, 20, 5, tzinfo=UTC)
    assert month.holiday.weekday() < 5
