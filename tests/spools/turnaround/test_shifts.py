"""The shop calendar: sums of working time, clock changes, nights, holidays, and laws that hold for any calendar."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.shifts import Calendar, CalendarError, Shift, WorkedDay
from tests.spools.turnaround.a_shop import DAY_SHIFT, NEW_YORK, ROUND_THE_CLOCK, SHOP, WEEK, day, local, wall

NIGHT = (Shift(time(22), time(6)),)
EVERY_NIGHT = Calendar(NEW_YORK, (NIGHT,) * 7)


def hours(calendar: Calendar, start: str, end: str, zone: str = NEW_YORK) -> float:
    return calendar.working_hours(local(start, zone), local(end, zone))


def test_a_plain_day_has_its_shift():
    assert hours(SHOP, "2026-11-03 00:00", "2026-11-04 00:00") == 8.5


def test_a_weekend_has_no_working_time():
    assert hours(SHOP, "2026-11-06 14:30", "2026-11-09 06:00") == 0.0


def test_working_time_counts_only_what_lies_between():
    assert hours(SHOP, "2026-11-06 13:00", "2026-11-09 07:15") == 1.5 + 1.25


def test_an_end_before_its_start_gives_zero_not_less():
    assert hours(SHOP, "2026-11-04 12:00", "2026-11-03 08:00") == 0.0


def test_a_closed_day_is_skipped():
    holiday = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2026-11-26")}))
    assert hours(holiday, "2026-11-25 14:00", "2026-11-27 06:30") == 1.0


def test_an_overtime_saturday_counts_by_its_own_shifts():
    overtime = Calendar(NEW_YORK, WEEK, worked=(WorkedDay(day("2026-11-07"), (Shift(time(7), time(11)),)),))
    assert hours(overtime, "2026-11-06 14:30", "2026-11-09 06:00") == 4.0


def test_a_worked_day_wins_over_a_closed_day():
    short = WorkedDay(day("2026-12-24"), (Shift(time(6), time(10)),))
    calendar = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2026-12-24")}), worked=(short,))
    assert hours(calendar, "2026-12-24 00:00", "2026-12-25 00:00") == 4.0


def test_a_break_is_not_working_time():
    split = Calendar(NEW_YORK, ((Shift(time(6), time(10)), Shift(time(10, 30), time(14, 30))),) * 7)
    assert hours(split, "2026-11-03 09:00", "2026-11-03 11:00") == 1.5


def test_overlapping_shifts_count_once():
    overlap = Calendar(NEW_YORK, ((Shift(time(6), time(14)), Shift(time(12), time(18))),) * 7)
    assert hours(overlap, "2026-11-03 00:00", "2026-11-04 00:00") == 12.0


def test_a_shift_over_midnight_belongs_to_both_days():
    assert hours(EVERY_NIGHT, "2026-11-03 23:00", "2026-11-04 01:30") == 2.5


def test_friday_night_runs_into_a_free_saturday():
    nights = Calendar(NEW_YORK, (NIGHT,) * 5 + ((), ()))
    assert hours(nights, "2026-11-07 00:00", "2026-11-08 00:00") == 6.0


def test_the_night_on_which_clocks_go_forward_is_an_hour_short():
    assert hours(EVERY_NIGHT, "2026-03-07 22:00", "2026-03-08 06:00") == 7.0


def test_the_night_on_which_clocks_go_back_is_an_hour_long():
    assert hours(EVERY_NIGHT, "2026-10-31 22:00", "2026-11-01 06:00") == 9.0


def test_a_day_shift_is_as_long_as_ever_after_each_clock_change():
    everyday = Calendar(NEW_YORK, (DAY_SHIFT,) * 7)
    for change in ("2026-03-08", "2026-11-01"):
        assert hours(everyday, f"{change} 00:00", f"{change} 23:59") == 8.5


def test_a_shift_that_starts_in_the_hour_that_is_skipped_loses_that_part():
    early = Calendar(NEW_YORK, ((Shift(time(2, 30), time(6)),),) * 7)
    assert hours(early, "2026-03-08 00:00", "2026-03-08 12:00") == 2.5


def test_half_hour_clock_changes_are_kept_too():
    island = Calendar("Australia/Lord_Howe", (NIGHT,) * 7)
    assert hours(island, "2026-04-04 22:00", "2026-04-05 06:00", island.zone) == 8.5


def test_a_night_over_the_end_of_the_year_is_a_night():
    assert hours(EVERY_NIGHT, "2026-12-31 23:00", "2027-01-01 02:00") == 3.0


def test_adding_over_the_end_of_the_year_skips_the_holiday():
    calendar = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2027-01-01")}))
    assert wall(calendar.add_working(local("2026-12-31 14:00"), 3600)) == "2027-01-04 06:30"


def test_adding_ends_at_the_end_of_a_shift_not_at_the_next_start():
    assert wall(SHOP.add_working(local("2026-11-06 13:30"), 3600)) == "2026-11-06 14:30"


def test_adding_nothing_stays_where_it_is():
    saturday = local("2026-11-07 09:00")
    assert SHOP.add_working(saturday, 0) == saturday


def test_a_shift_end_is_no_longer_staffed():
    assert SHOP.is_staffed(local("2026-11-06 06:00"))
    assert not SHOP.is_staffed(local("2026-11-06 14:30"))


def test_the_next_shift_start_is_after_the_weekend():
    assert wall(SHOP.next_shift_start(local("2026-11-06 06:01"))) == "2026-11-09 06:00"
    assert wall(SHOP.next_shift_start(local("2026-11-09 06:00"))) == "2026-11-09 06:00"


def test_the_next_shift_start_in_a_shop_round_the_clock_is_the_next_shift():
    calendar = Calendar(NEW_YORK, (ROUND_THE_CLOCK,) * 7)
    assert wall(calendar.next_shift_start(local("2026-11-03 14:30"))) == "2026-11-03 22:00"
    assert hours(calendar, "2026-11-01 00:00", "2026-11-02 00:00") == 25.0


def test_a_shift_that_ends_at_its_own_start_is_a_whole_day():
    calendar = Calendar(NEW_YORK, ((Shift(time(0), time(0)),),) * 7)
    assert hours(calendar, "2026-11-03 00:00", "2026-11-05 12:00") == 60.0


def test_the_usual_day_is_the_longest_of_the_week():
    assert SHOP.usual_day_hours() == 8.5
    assert Calendar(NEW_YORK, (ROUND_THE_CLOCK,) * 7).usual_day_hours() == 24.0


def test_a_shop_without_shifts_says_what_to_enter():
    empty = Calendar(NEW_YORK, ((),) * 7)
    with pytest.raises(CalendarError, match="enter the week's shifts"):
        empty.add_working(local("2026-11-03 08:00"), 60)
    with pytest.raises(CalendarError, match="enter the week's shifts"):
        empty.next_shift_start(local("2026-11-03 08:00"))


def test_a_moment_without_a_time_zone_is_refused():
    with pytest.raises(CalendarError, match="has no time zone"):
        SHOP.is_staffed(datetime(2026, 11, 3, 8))  # noqa: DTZ001


def test_an_unknown_time_zone_is_refused_with_an_example():
    with pytest.raises(CalendarError, match="America/New_York"):
        Calendar("Mars/Olympus", WEEK)


def test_a_week_of_six_days_is_refused():
    with pytest.raises(CalendarError, match="7 days"):
        Calendar(NEW_YORK, WEEK[:6])


def test_working_time_can_not_be_taken_off():
    with pytest.raises(CalendarError, match="swap"):
        SHOP.add_working(local("2026-11-03 08:00"), -1)


def test_a_free_day_has_no_first_start():
    with pytest.raises(CalendarError, match="No shift starts on 2026-11-07"):
        SHOP.first_start(day("2026-11-07"))


clock_times = st.builds(time, st.integers(0, 23), st.sampled_from([0, 15, 30, 45]))
shift_lists = st.lists(st.builds(Shift, clock_times, clock_times), max_size=3).map(tuple)
changes = st.lists(
    st.dates(date(2026, 3, 1), date(2026, 3, 15)) | st.dates(date(2026, 10, 20), date(2026, 11, 5)), max_size=4
)
calendars = st.builds(
    lambda zone, week, closed, worked: Calendar(zone, tuple(week), frozenset(closed), worked),
    st.sampled_from([NEW_YORK, "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"]),
    st.lists(shift_lists, min_size=7, max_size=7).filter(any),
    changes,
    st.lists(st.builds(WorkedDay, st.dates(date(2026, 10, 20), date(2026, 11, 5)), shift_lists), max_size=2).map(tuple),
)
spring, fall = datetime(2026, 3, 5, tzinfo=UTC), datetime(2026, 10, 22, tzinfo=UTC)
moments = st.builds(
    lambda base, minutes, seconds: base + timedelta(minutes=minutes, seconds=seconds),
    st.sampled_from([spring, fall]),
    st.integers(0, 14 * 24 * 60),
    st.integers(0, 59),
)


@given(calendars, moments, moments, moments)
@settings(max_examples=60, deadline=None)
def test_working_time_adds_up(calendar: Calendar, one: datetime, two: datetime, three: datetime):
    a, b, c = sorted((one, two, three))
    whole = calendar.working_seconds(a, c)
    assert calendar.working_seconds(a, b) + calendar.working_seconds(b, c) == whole
    assert 0 <= whole <= (c - a).total_seconds()


@given(calendars, moments, moments, moments)
@settings(max_examples=60, deadline=None)
def test_later_ends_never_have_less_working_time(calendar: Calendar, one: datetime, two: datetime, three: datetime):
    a, b, c = sorted((one, two, three))
    assert calendar.working_seconds(a, b) <= calendar.working_seconds(a, c)
    assert calendar.working_seconds(b, c) <= calendar.working_seconds(a, c)


@given(calendars, moments, st.integers(0, 5 * 24 * 3600))
@settings(max_examples=60, deadline=None)
def test_adding_working_time_is_the_inverse_of_counting_it(calendar: Calendar, at: datetime, seconds: int):
    later = calendar.add_working(at, seconds)
    assert calendar.working_seconds(at, later) == seconds
    if seconds:
        assert calendar.working_seconds(at, later - timedelta(seconds=1)) < seconds


@given(calendars, moments, moments)
@settings(max_examples=60, deadline=None)
def test_counting_then_adding_comes_back_no_later(calendar: Calendar, one: datetime, two: datetime):
    start, end = sorted((one, two))
    assert calendar.add_working(start, calendar.working_seconds(start, end)) <= end


@given(calendars, moments)
@settings(max_examples=60, deadline=None)
def test_somebody_works_right_after_the_next_staffed_moment(calendar: Calendar, at: datetime):
    then = calendar.next_staffed(at)
    assert then >= at
    assert calendar.working_seconds(at, then) == 0


@given(calendars, st.dates(date(2026, 3, 6), date(2026, 3, 12)) | st.dates(date(2026, 10, 23), date(2026, 11, 4)))
@settings(max_examples=25, deadline=None)
def test_minute_by_minute_counting_agrees(calendar: Calendar, counted: date):
    start = calendar.moment(counted, time(0))
    end = calendar.moment(counted + timedelta(days=1), time(0))
    minutes = int((end - start).total_seconds() // 60)
    staffed = sum(calendar.is_staffed(start + timedelta(minutes=minute)) for minute in range(minutes))
    assert calendar.working_seconds(start, end) == staffed * 60
