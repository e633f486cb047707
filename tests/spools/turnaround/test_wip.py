"""Cumulative flow: counts by stage at the end of each working day."""

from hypothesis import given, settings
from hypothesis import strategies as st

from spools.turnaround.wip import daily_flow
from tests.spools.turnaround.a_shop import day, seen, spool

STAGES = ("measured", "cut", "grooved", "welded")


def test_a_stage_not_needed_counts_as_passed_with_the_next():
    one = spool("1", start="2026-11-03 08:00", steps="cut 2026-11-03 10:00, welded 2026-11-04 09:00")
    flow = daily_flow(seen(one, at="2026-11-05 12:00"), stages=STAGES, first=day("2026-11-02"), last=day("2026-11-05"))
    assert [(row.day.day, row.reached) for row in flow] == [
        (2, (0, 0, 0, 0)),
        (3, (1, 1, 0, 0)),
        (4, (1, 1, 1, 1)),
        (5, (1, 1, 1, 1)),
    ]


def test_work_in_a_stage_is_what_has_not_gone_on():
    first = spool("1", start="2026-11-03 08:00", steps="cut 2026-11-03 10:00")
    second = spool("2", start="2026-11-03 08:00")
    (row,) = daily_flow(
        seen(first, second, at="2026-11-03 12:00"), stages=STAGES, first=day("2026-11-03"), last=day("2026-11-09")
    )
    assert row.in_stage == (1, 1, 0, 0)


def test_an_evening_tap_counts_to_its_local_day():
    late = spool("1", start="2026-11-03 21:30")  # already the next day in UTC
    flow = daily_flow(seen(late, at="2026-11-05 12:00"), stages=STAGES, first=day("2026-11-03"), last=day("2026-11-03"))
    assert flow[0].reached[0] == 1


hours = st.integers(6, 90)


@given(st.lists(st.tuples(hours, hours, hours), max_size=15))
@settings(max_examples=50, deadline=None)
def test_counts_never_fall_by_day_nor_rise_by_stage(rows: list[tuple[int, int, int]]):
    def when(hour: int) -> str:
        return f"2026-11-{2 + hour // 24:02d} {hour % 24:02d}:00"

    spools = [
        spool(str(number), start=when(begun), steps=f"cut {when(cut)}, welded {when(welded)}")
        for number, (begun, cut, welded) in enumerate(rows)
    ]
    flow = daily_flow(
        seen(*spools, at="2026-11-06 12:00"), stages=STAGES, first=day("2026-11-02"), last=day("2026-11-06")
    )
    for row in flow:
        assert list(row.reached) == sorted(row.reached, reverse=True)
        assert sum(row.in_stage) == row.reached[0]
    for stage in range(4):
        counts = [row.reached[stage] for row in flow]
        assert counts == sorted(counts)
    assert flow[-1].reached[0] == len(rows)


def test_what_was_through_long_before_is_in_every_stage_of_every_day():
    shop = seen(spool("1", start="2026-11-03 08:00"), at="2026-11-05 12:00")
    window = {"stages": STAGES, "first": day("2026-11-03"), "last": day("2026-11-04")}
    alone, with_older = daily_flow(shop, **window), daily_flow(shop, **window, before=40)
    assert [tuple(count + 40 for count in row.reached) for row in alone] == [row.reached for row in with_older]
