"""The promised figures: cohorts by due date, open late spools as misses, late hours by cause."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.figures import late_by_cause, on_time, shop_clock, shop_clock_by_week
from spools.turnaround.shares import Share
from tests.spools.turnaround.a_shop import SHOP, day, local, seen, spool

IN_TIME = spool("1", start="2026-11-02 08:00", due="2026-11-03 08:00", accepted="2026-11-03 08:00")
TOO_LATE = spool("2", start="2026-11-02 08:00", due="2026-11-03 08:00", accepted="2026-11-03 08:01", cause="fit")
OPEN_LATE = spool("3", start="2026-11-02 10:00", due="2026-11-03 10:00", cause="field")
NOT_DUE = spool("4", start="2026-11-09 10:00", due="2026-11-10 10:00", accepted="2026-11-09 11:00")
NEXT_WEEK = spool("5", start="2026-11-06 08:00", due="2026-11-09 08:00", accepted="2026-11-09 07:00")
NOW = "2026-11-09 12:00"


def test_on_time_counts_all_that_came_due_and_open_late_ones_as_misses():
    found = on_time(seen(IN_TIME, TOO_LATE, OPEN_LATE, NOT_DUE, NEXT_WEEK, at=NOW))
    assert found.share == Share(2, 4)
    assert found.open_late == ("3",)
    assert found.not_yet_due == 1


def test_on_time_is_grouped_by_the_week_in_which_spools_were_due():
    weeks = on_time(seen(IN_TIME, TOO_LATE, OPEN_LATE, NEXT_WEEK, at=NOW)).by_week
    assert [(week.monday, week.share, week.missed) for week in weeks] == [
        (day("2026-11-02"), Share(1, 3), ("2", "3")),
        (day("2026-11-09"), Share(1, 1), ()),
    ]


def test_counting_finished_ones_only_flatters_and_is_shown_apart():
    found = on_time(seen(IN_TIME, TOO_LATE, OPEN_LATE, at=NOW))
    assert (found.share, found.finished_only) == (Share(1, 3), Share(1, 2))


def test_an_early_acceptance_that_is_not_due_yet_is_left_out():
    assert on_time(seen(NOT_DUE, at=NOW)).share == Share(0, 0)


def test_a_due_week_is_by_the_shops_own_clock():
    late_sunday = spool("9", start="2026-11-06 08:00", due="2026-11-08 22:00")  # Monday 03:00 in UTC
    assert on_time(seen(late_sunday, at=NOW)).by_week[0].monday == day("2026-11-02")


def test_scrapping_does_not_restart_the_clock():
    scrapped = replace(OPEN_LATE, scrapped_at=local("2026-11-03 09:00"))
    again = spool("3", start="2026-11-04 08:00", due="2026-11-05 08:00", accepted="2026-11-04 10:00")
    assert on_time(seen(scrapped, again, at=NOW)).share == Share(0, 1)


def test_an_earlier_day_shows_what_was_known_then():
    assert on_time(seen(IN_TIME, TOO_LATE, OPEN_LATE, NEXT_WEEK, at="2026-11-03 08:00")).share == Share(1, 2)


def test_the_shop_clock_holds_open_work():
    clock = shop_clock(seen(IN_TIME, TOO_LATE, OPEN_LATE, at=NOW))
    assert clock.finished_h == (8.5, pytest.approx(8.5 + 1 / 60))
    assert clock.open_h == (4.5 + 4 * 8.5 + 6.0,)
    assert clock.p50 == pytest.approx(8.5 + 1 / 60)
    assert clock.p90 is None


def test_within_one_day_counts_finished_and_open_ones_whose_answer_is_known():
    young = spool("6", start="2026-11-09 11:00", due="2026-11-10 11:00")
    assert shop_clock(seen(IN_TIME, TOO_LATE, OPEN_LATE, young, at=NOW)).within_one_day == Share(1, 3)


def test_the_shop_clock_goes_by_the_week_in_which_it_started():
    weeks = shop_clock_by_week(seen(IN_TIME, NEXT_WEEK, NOT_DUE, at=NOW))
    assert [(week.monday, week.clock.curve.n) for week in weeks] == [(day("2026-11-02"), 2), (day("2026-11-09"), 1)]


def test_late_ones_are_counted_by_cause_with_their_hours():
    causes = late_by_cause(
        seen(IN_TIME, TOO_LATE, OPEN_LATE, replace(OPEN_LATE, mark="7", tie_in="7", cause=""), at=NOW)
    )
    assert [(late.cause, late.marks) for late in causes] == [
        ("field", ("3",)),
        ("no cause given", ("7",)),
        ("fit", ("2",)),
    ]
    assert causes[0].late_h == 4.5 + 3 * 8.5 + 6.0
    assert causes[2].late_h == pytest.approx(1 / 60)


hours = st.integers(0, 200)
some_spools = st.lists(st.tuples(hours, st.none() | hours, st.booleans()), max_size=25)


@given(some_spools)
@settings(max_examples=80, deadline=None)
def test_weeks_add_up_to_the_whole_and_nobody_is_lost(rows: list[tuple[int, int | None, bool]]):
    base = local("2026-10-28 08:00")
    spools = []
    for number, (start, took, scrapped) in enumerate(rows):
        begun = SHOP.add_working(base, start * 1800)
        spools.append(
            replace(
                spool(str(number), start="2026-10-28 08:00"),
                received_at=begun,
                clock_start_at=begun,
                due_at=SHOP.add_working(begun, 8.5 * 3600),
                accepted_at=None if took is None else SHOP.add_working(begun, took * 600),
                scrapped_at=begun if scrapped else None,
            )
        )
    shop = seen(*spools, at=NOW)
    found = on_time(shop)
    assert sum(week.share.n for week in found.by_week) == found.share.n
    assert sum(week.share.hits for week in found.by_week) == found.share.hits
    assert found.share.n + found.not_yet_due == len(shop.spools)
    assert found.share.n == found.finished_only.n + len(found.open_late)
    assert sum(len(late.marks) for late in late_by_cause(shop)) == found.share.n - found.share.hits
