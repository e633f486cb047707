"""Builds fold to one for each tie-in, and nothing of the future is seen."""

from dataclasses import replace

from spools.turnaround.facts import HoldSpan, StepDone, as_of, live_builds
from tests.spools.turnaround.a_shop import local, spool

FIRST = spool("214", start="2026-11-02 08:00", due="2026-11-03 08:00", scrapped_at="2026-11-03 09:00")
SECOND = spool("214", start="2026-11-03 10:00", due="2026-11-04 10:00", accepted="2026-11-04 09:00")
NOW = local("2026-11-10 12:00")


def test_a_scrapped_build_passes_its_start_and_due_time_to_its_replacement():
    (live,) = live_builds([FIRST, SECOND], at=NOW)
    assert (live.clock_start_at, live.due_at) == (FIRST.clock_start_at, FIRST.due_at)
    assert live.accepted_at == SECOND.accepted_at


def test_the_order_in_which_builds_are_given_does_not_matter():
    assert live_builds([SECOND, FIRST], at=NOW) == live_builds([FIRST, SECOND], at=NOW)


def test_scrapping_is_a_defect_of_the_tie_in():
    (live,) = live_builds([FIRST, replace(SECOND, defects=1)], at=NOW)
    assert live.defects == 2


def test_a_replacement_is_late_for_the_cause_that_ended_the_first_build():
    (live,) = live_builds([replace(FIRST, cause="saw"), SECOND], at=NOW)
    assert live.cause == "saw"
    (live,) = live_builds([replace(FIRST, cause="saw"), replace(SECOND, cause="weld")], at=NOW)
    assert live.cause == "saw"


def test_a_tie_in_with_only_a_scrapped_build_stays_open_even_if_that_was_accepted():
    accepted_then_scrapped = replace(FIRST, accepted_at=local("2026-11-02 12:00"))
    (live,) = live_builds([accepted_then_scrapped], at=NOW)
    assert live.accepted_at is None
    assert live.due_at == FIRST.due_at


def test_a_chain_of_three_builds_keeps_the_first_start():
    second_scrapped = replace(SECOND, accepted_at=None, scrapped_at=local("2026-11-05 08:00"))
    third = spool("214", start="2026-11-05 09:00", due="2026-11-06 09:00")
    (live,) = live_builds([third, second_scrapped, FIRST], at=NOW)
    assert live.clock_start_at == FIRST.clock_start_at
    assert live.received_at == FIRST.received_at
    assert live.scrapped_at is None


def test_a_spool_not_yet_received_is_not_seen():
    assert as_of(FIRST, local("2026-11-02 07:59")) is None


def test_what_happens_later_is_not_seen():
    stamped = replace(
        SECOND,
        steps=(StepDone("cut", local("2026-11-03 11:00")), StepDone("welded", local("2026-11-04 08:00"))),
        holds=(HoldSpan(local("2026-11-03 10:30"), local("2026-11-04 07:00"), "field question", "field"),),
    )
    then = as_of(stamped, local("2026-11-03 12:00"))
    assert then is not None
    assert then.accepted_at is None
    assert [step.step for step in then.steps] == ["cut"]
    assert then.holds[0].until is None


def test_a_scrap_that_is_yet_to_come_is_not_seen():
    (live,) = live_builds([FIRST, SECOND], at=local("2026-11-03 08:30"))
    assert live == replace(FIRST, scrapped_at=None)
