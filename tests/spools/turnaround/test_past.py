"""Past whole days and trips, read from the stamps."""

from spools.turnaround.past import PastDay, past_days, trips
from spools.turnaround.survival import Duration
from tests.spools.turnaround.a_shop import day, seen, spool

NOW = "2026-11-10 09:00"


def test_every_whole_working_day_is_listed_even_an_empty_one():
    first = spool("1", start="2026-11-05 10:00", accepted="2026-11-06 09:00")
    second = spool("2", start="2026-11-05 11:00", accepted="2026-11-10 08:00")
    assert past_days(seen(first, second, at=NOW)) == (
        PastDay(day("2026-11-05"), measured=2, accepted=0),
        PastDay(day("2026-11-06"), measured=0, accepted=1),
        PastDay(day("2026-11-09"), measured=0, accepted=0),
    )


def test_what_happens_on_a_free_day_counts_to_the_next_working_day():
    (only,) = past_days(seen(spool("1", start="2026-11-07 10:00"), at=NOW))
    assert only == PastDay(day("2026-11-09"), measured=1, accepted=0)


def test_before_the_first_reading_there_is_no_past():
    assert past_days(seen(at=NOW)) == ()


def test_a_trip_ends_when_the_last_of_its_day_is_delivered():
    quick = spool("1", start="2026-11-02 10:00", accepted="2026-11-03 09:00", delivered_at="2026-11-05 09:00")
    slow = spool("2", start="2026-11-02 10:00", accepted="2026-11-03 12:00", delivered_at="2026-11-09 09:00")
    assert trips(seen(quick, slow, at=NOW)) == (Duration(6, finished=True),)


def test_a_trip_with_something_still_out_is_open():
    back = spool("1", start="2026-11-02 10:00", accepted="2026-11-03 09:00", delivered_at="2026-11-05 09:00")
    out = spool("2", start="2026-11-02 10:00", accepted="2026-11-03 12:00")
    assert trips(seen(back, out, at=NOW)) == (Duration(7, finished=False),)
