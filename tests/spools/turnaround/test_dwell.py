"""Waiting and working by step, rework, taps entered later, and stays that still last."""

from dataclasses import replace
from datetime import timedelta

from spools.turnaround.dwell import dwell_by_step, dwells, entered_later, open_dwell
from spools.turnaround.facts import StepDone
from tests.spools.turnaround.a_shop import SHOP, local, seen, spool

START = "2026-11-03 06:00"
NOW = "2026-11-03 14:00"


def step(word: str, done: str, *, started: str = "", entered: str = "", by: str = "Ruiz") -> StepDone:
    return StepDone(word, local(done), local(started) if started else None, local(entered) if entered else None, by)


def test_a_stay_splits_at_the_first_touch():
    facts = replace(spool("1", start=START), steps=(step("cut", "2026-11-03 09:00", started="2026-11-03 08:00"),))
    (stay,) = dwells(facts, calendar=SHOP)
    assert (stay.waiting_h, stay.working_h, stay.unsplit_h, stay.hours) == (2.0, 1.0, None, 3.0)


def test_without_a_first_touch_waiting_and_working_are_not_told_apart():
    (stay,) = dwells(spool("1", start=START, steps="cut 2026-11-03 09:00"), calendar=SHOP)
    assert (stay.waiting_h, stay.working_h, stay.unsplit_h) == (None, None, 3.0)


def test_stays_follow_each_other_without_gaps():
    facts = spool("1", start=START, steps="cut 2026-11-03 09:00, welded 2026-11-04 07:00")
    cut, welded = dwells(facts, calendar=SHOP)
    assert welded.since == cut.done_at
    assert cut.hours + welded.hours == SHOP.working_hours(local(START), local("2026-11-04 07:00"))


def test_a_weld_done_again_has_a_stay_of_its_own():
    facts = spool("1", start=START, steps="welded 2026-11-03 09:00, rejected 2026-11-03 10:00, welded 2026-11-03 12:00")
    assert [(stay.step, stay.hours) for stay in dwells(facts, calendar=SHOP)] == [
        ("welded", 3.0),
        ("rejected", 1.0),
        ("welded", 2.0),
    ]


def test_a_step_stamped_before_the_clock_started_takes_no_time():
    (stay,) = dwells(spool("1", start=START, steps="cut 2026-11-02 09:00"), calendar=SHOP)
    assert stay.hours == 0.0


def test_no_time_is_counted_twice_after_a_stamp_that_jumped_back():
    facts = spool("1", start=START, steps="cut 2026-11-02 09:00, welded 2026-11-03 08:00")
    assert [stay.hours for stay in dwells(facts, calendar=SHOP)] == [0.0, 2.0]


def test_a_first_touch_out_of_order_is_held_within_the_stay():
    facts = replace(spool("1", start=START), steps=(step("cut", "2026-11-03 09:00", started="2026-11-02 08:00"),))
    (stay,) = dwells(facts, calendar=SHOP)
    assert (stay.waiting_h, stay.working_h) == (0.0, 3.0)


def test_an_open_spool_waits_before_its_next_step():
    stay = open_dwell(
        spool("1", start=START, steps="cut 2026-11-03 09:00", next_step="welded"), calendar=SHOP, at=local(NOW)
    )
    assert stay is not None
    assert (stay.step, stay.waiting_h, stay.done_at) == ("welded", 5.0, None)


def test_a_delivered_spool_waits_for_nothing():
    delivered = spool("1", start=START, delivered_at="2026-11-03 12:00", next_step="welded")
    assert open_dwell(delivered, calendar=SHOP, at=local(NOW)) is None


def test_steps_are_summed_in_the_order_asked():
    first = spool("1", start=START, steps="cut 2026-11-03 07:00, welded 2026-11-03 11:00")
    second = spool("2", start=START, steps="cut 2026-11-03 09:00", next_step="welded")
    cut, welded = dwell_by_step(seen(first, second, at=NOW), steps=("cut", "welded"))
    assert (cut.unsplit.n, cut.unsplit.p50, cut.unsplit.total) == (2, 1.0, 4.0)
    assert (welded.unsplit.n, welded.waiting_now, welded.waiting_now_h) == (1, 1, 5.0)
    assert welded.waiting_total_h == 4.0 + 5.0


def test_six_taps_of_one_step_in_a_minute_were_entered_later():
    spools = [_tapped(number, seconds=number * 10) for number in range(6)]
    assert entered_later(spools) == {(str(number), "welded") for number in range(6)}


def test_five_taps_in_a_minute_are_a_fast_welder():
    assert entered_later([_tapped(number, seconds=number * 10) for number in range(5)]) == frozenset()


def test_taps_of_two_people_are_not_one_burst():
    spools = [_tapped(number, seconds=number * 5, by="Ruiz" if number % 2 else "Osei") for number in range(8)]
    assert entered_later(spools) == frozenset()


def test_burst_stays_are_left_out_and_counted():
    honest = replace(spool("9", start=START), steps=(step("welded", "2026-11-03 08:00", entered="2026-11-03 08:00"),))
    shop = seen(honest, *(_tapped(number, seconds=number) for number in range(6)), at=NOW)
    (welded,) = dwell_by_step(shop, steps=("welded",))
    assert (welded.left_out, welded.unsplit.n, welded.unsplit.p50) == (6, 1, 2.0)


def _tapped(number: int, *, seconds: int, by: str = "Ruiz"):
    entered = local("2026-11-03 13:59") + timedelta(seconds=seconds / 10)
    tap = StepDone("welded", local("2026-11-03 13:00"), entered_at=entered, by=by)
    return replace(spool(str(number), start=START), steps=(tap,))
