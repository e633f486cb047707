"""Open work by age, at risk by what past spools needed, and the foreman's four numbers."""

from dataclasses import replace

from spools.turnaround.aging import aging, remaining_work, today_line
from spools.turnaround.facts import HoldSpan
from tests.spools.turnaround.a_shop import local, seen, spool

NOW = "2026-11-10 09:00"
OLD = spool("1", start="2026-11-05 10:00", due="2026-11-06 10:00", next_step="welded", whose_move="fitter")
YOUNG = spool("2", start="2026-11-10 08:00", due="2026-11-11 08:00", next_step="cut", whose_move="cutter")
SOON = spool("3", start="2026-11-09 10:00", due="2026-11-10 10:00", next_step="accepted", whose_move="inspector")
DONE = spool("4", start="2026-11-09 10:00", due="2026-11-10 10:00", accepted="2026-11-10 07:00")


def past(number: int):
    """A past spool that needed 5 h from cut to accepted."""
    return spool(f"p{number}", start="2026-11-02 06:00", accepted="2026-11-02 12:00", steps="cut 2026-11-02 07:00")


def test_the_oldest_comes_first_with_whose_move_it_is():
    found = aging(seen(YOUNG, OLD, SOON, DONE, at=NOW))
    assert [(one.mark, one.whose_move, one.standing) for one in found] == [
        ("1", "fitter", "late"),
        ("3", "inspector", "at risk"),
        ("2", "cutter", "in time"),
    ]


def test_an_open_spool_shows_its_age_by_both_clocks():
    (one,) = aging(seen(OLD, at=NOW))
    assert one.shop_h == 4.5 + 8.5 + 8.5 + 3.0
    assert one.days == 5 - 1 / 24
    assert one.late_h == 4.5 + 8.5 + 3.0
    assert one.reason == "next: welded"


def test_a_hold_names_its_owner_and_reason():
    held = replace(OLD, holds=(HoldSpan(local("2026-11-05 11:00"), None, "which size", "Larkfield", customer=True),))
    (one,) = aging(seen(held, at=NOW))
    assert (one.held, one.whose_move, one.reason) == (True, "Larkfield", "which size")


def test_a_hold_that_was_let_go_no_longer_counts():
    ended = HoldSpan(local("2026-11-05 11:00"), local("2026-11-05 12:00"), "which size", "Larkfield")
    (one,) = aging(seen(replace(OLD, holds=(ended,)), at=NOW))
    assert (one.held, one.whose_move) == (False, "fitter")


def test_work_not_yet_delivered_can_be_asked_for():
    assert [one.mark for one in aging(seen(DONE, at=NOW), until="delivered")] == ["4"]
    assert aging(seen(DONE, at=NOW)) == ()


def test_a_spool_without_a_due_time_has_not_started():
    (one,) = aging(seen(replace(YOUNG, due_at=None, clock_start_at=None), at=NOW))
    assert (one.standing, one.shop_h) == ("not started", 0.0)


def test_remaining_work_is_learned_from_accepted_spools():
    needed = {work.after: (work.n, work.p85_h) for work in remaining_work(seen(*(past(n) for n in range(8)), at=NOW))}
    assert needed == {"": (8, 6.0), "cut": (8, 5.0)}


def test_a_spool_is_at_risk_when_past_ones_needed_more_than_it_has_left():
    after_cut = spool("7", start="2026-11-09 13:00", due="2026-11-10 13:00", steps="cut 2026-11-10 08:00")
    (one,) = aging(seen(after_cut, *(past(n) for n in range(8)), at=NOW))
    assert one.standing == "at risk"  # 4 h left, 5 h needed


def test_with_too_few_past_spools_the_plain_rule_holds():
    after_cut = spool("7", start="2026-11-09 13:00", due="2026-11-10 13:00", steps="cut 2026-11-10 08:00")
    (one,) = aging(seen(after_cut, *(past(n) for n in range(7)), at=NOW))
    assert one.standing == "in time"  # 4 h left, more than 2


def test_the_today_line_lists_marks():
    line = today_line(seen(OLD, YOUNG, SOON, DONE, at=NOW))
    assert (line.due_today, line.done, line.at_risk, line.late) == (("3", "4"), ("4",), ("3",), ("1",))
