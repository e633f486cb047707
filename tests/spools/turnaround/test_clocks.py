"""Clocks of one spool: what starts and stops them, holds beside them, and stamps that jump back."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.clocks import Elapsed, clocks, late_hours
from spools.turnaround.facts import HoldSpan, SpoolFacts
from spools.turnaround.shifts import Calendar, Shift
from tests.spools.turnaround.a_shop import DAY_SHIFT, NEW_YORK, SHOP, local, spool

NOW = local("2026-11-20 12:00")
DONE = spool(
    "214",
    start="2026-11-05 12:30",
    due="2026-11-06 12:30",
    accepted="2026-11-06 10:00",
    taken_at="2026-11-04 12:30",
    received_at="2026-11-05 12:30",
    coating_out_at="2026-11-10 07:00",
    coating_back_at="2026-11-13 07:00",
    delivered_at="2026-11-14 12:30",
)


def test_field_lag_runs_from_the_reading_to_its_receipt():
    assert clocks(DONE, calendar=SHOP, at=NOW).field_lag_h == Elapsed(24.0, running=False)


def test_the_shop_clock_runs_in_working_hours_until_accepted():
    assert clocks(DONE, calendar=SHOP, at=NOW).shop_h == Elapsed(2.0 + 4.0, running=False)


def test_coating_and_door_to_door_run_in_calendar_days():
    found = clocks(DONE, calendar=SHOP, at=NOW)
    assert found.coating_days == Elapsed(3.0, running=False)
    assert found.door_to_door_days == Elapsed(10.0, running=False)


def test_the_galvanizers_own_working_days_are_counted_by_its_calendar():
    galvanizer = Calendar(NEW_YORK, (DAY_SHIFT,) * 2 + ((),) + (DAY_SHIFT,) * 2 + ((), ()))
    found = clocks(DONE, calendar=SHOP, at=NOW, galvanizer=galvanizer).coating_working_days
    assert found == pytest.approx((7.5 + 0 + 8.5 + 1) / 8.5)  # Tuesday 07:00 to Friday 07:00, closed on Wednesdays


def test_a_clock_that_has_not_started_is_empty():
    waiting = SpoolFacts("9", "9", received_at=local("2026-11-05 12:30"))
    found = clocks(waiting, calendar=SHOP, at=NOW)
    assert (found.field_lag_h, found.shop_h, found.coating_days, found.door_to_door_days) == (None, None, None, None)


def test_an_open_clock_runs_up_to_now():
    open_spool = spool("9", start="2026-11-19 13:30")
    assert clocks(open_spool, calendar=SHOP, at=NOW).shop_h == Elapsed(1.0 + 6.0, running=True)


def test_a_customer_hold_stops_only_the_second_figure():
    hold = HoldSpan(local("2026-11-06 07:00"), local("2026-11-06 09:00"), "which size", "Larkfield", customer=True)
    found = clocks(
        spool("9", start="2026-11-06 06:00", accepted="2026-11-06 10:00", holds=(hold,)), calendar=SHOP, at=NOW
    )
    assert found.shop_h == Elapsed(4.0, running=False)
    assert found.shop_without_customer_hold_h == Elapsed(2.0, running=False)


def test_the_shops_own_hold_is_not_taken_off():
    hold = HoldSpan(local("2026-11-06 07:00"), local("2026-11-06 09:00"), "no material", "foreman")
    found = clocks(
        spool("9", start="2026-11-06 06:00", accepted="2026-11-06 10:00", holds=(hold,)), calendar=SHOP, at=NOW
    )
    assert found.shop_without_customer_hold_h == Elapsed(4.0, running=False)


def test_two_customer_holds_at_once_are_taken_off_once():
    holds = (
        HoldSpan(local("2026-11-06 07:00"), local("2026-11-06 09:00"), "a", "gc", customer=True),
        HoldSpan(local("2026-11-06 08:00"), None, "b", "gc", customer=True),
    )
    found = clocks(
        spool("9", start="2026-11-06 06:00", accepted="2026-11-06 10:00", holds=holds), calendar=SHOP, at=NOW
    )
    assert found.shop_without_customer_hold_h == Elapsed(1.0, running=False)


def test_a_phone_ahead_of_its_time_gives_zero_lag_and_is_flagged():
    found = clocks(
        spool("9", start="2026-11-05 12:00", taken_at="2026-11-05 13:00", received_at="2026-11-05 12:00"),
        calendar=SHOP,
        at=NOW,
    )
    assert found.field_lag_h == Elapsed(0.0, running=False)
    assert found.jumped


def test_stamps_in_order_are_not_flagged():
    assert not clocks(DONE, calendar=SHOP, at=NOW).jumped


def test_late_hours_count_working_time_past_due():
    late = spool("9", start="2026-11-05 10:00", due="2026-11-06 10:00", accepted="2026-11-09 07:00")
    assert late_hours(late, calendar=SHOP, at=NOW) == 4.5 + 1.0
    assert late_hours(DONE, calendar=SHOP, at=NOW) == 0.0


stamps = st.none() | st.integers(-100, 600).map(
    lambda hours: datetime(2026, 10, 30, tzinfo=UTC) + timedelta(hours=hours)
)
holds = st.builds(
    HoldSpan, stamps.filter(lambda at: at is not None), stamps, st.just("x"), st.just("y"), customer=st.booleans()
)
anything = st.builds(
    SpoolFacts,
    st.just("9"),
    st.just("9"),
    received_at=stamps.filter(lambda at: at is not None),
    taken_at=stamps,
    clock_start_at=stamps,
    due_at=stamps,
    accepted_at=stamps,
    coating_out_at=stamps,
    coating_back_at=stamps,
    delivered_at=stamps,
    holds=st.lists(holds, max_size=3).map(tuple),
)
nights = Calendar(NEW_YORK, ((Shift(datetime(2026, 1, 1, 22).time(), datetime(2026, 1, 1, 6).time()),),) * 7)  # noqa: DTZ001


@given(anything, st.sampled_from([SHOP, nights]))
@settings(max_examples=150, deadline=None)
def test_no_clock_is_ever_negative_however_the_stamps_jump(facts: SpoolFacts, calendar: Calendar):
    found = clocks(facts, calendar=calendar, at=NOW, galvanizer=calendar)
    running = (
        found.field_lag_h,
        found.shop_h,
        found.shop_without_customer_hold_h,
        found.coating_days,
        found.door_to_door_days,
    )
    assert all(clock.amount >= 0 for clock in running if clock is not None)
    assert (found.coating_working_days or 0) >= 0
    if found.shop_h and found.shop_without_customer_hold_h:
        assert found.shop_without_customer_hold_h.amount <= found.shop_h.amount + 1e-9
