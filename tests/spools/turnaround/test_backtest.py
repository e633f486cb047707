"""The back-test: made from what was known on each Monday, judged only when it can be."""

import random
from datetime import timedelta

from spools.turnaround.backtest import BackTest, BackTestCase, backtest
from spools.turnaround.past import PastDay
from tests.spools.turnaround.a_shop import SHOP, day

FIRST = day("2026-06-01")


def history(weeks: int, *, seed: int = 5) -> tuple[PastDay, ...]:
    draw = random.Random(seed)
    days = SHOP.working_days(FIRST, FIRST + timedelta(days=7 * weeks - 1))
    shop, rows = 60, []
    for when in days:
        accepted = min(draw.randint(4, 16), shop)
        measured = draw.randint(5, 15)
        shop += measured - accepted
        rows.append(PastDay(when, measured + (60 if when == FIRST else 0), accepted))
    return tuple(rows)


def test_a_case_uses_only_what_was_known_on_its_monday():
    past = history(10)
    short = backtest(past[:25], tie_ins=2000, calendar=SHOP, seed=1)
    whole = backtest(past, tie_ins=2000, calendar=SHOP, seed=1)
    assert [(case.monday, case.spools, case.said) for case in short.cases] == [
        (case.monday, case.spools, case.said) for case in whole.cases[: len(short.cases)]
    ]


def test_the_last_twelve_mondays_are_tested():
    found = backtest(history(20), tie_ins=5000, calendar=SHOP, seed=1)
    assert len(found.cases) == 12
    assert all(case.monday.weekday() == 0 for case in found.cases)


def test_a_shop_that_slows_down_breaks_its_dates():
    fast = history(4)
    slow = tuple(
        PastDay(when, 10, 1)
        for when in SHOP.working_days(fast[-1].day + timedelta(days=1), fast[-1].day + timedelta(days=21))
    )
    found = backtest(fast + slow, tie_ins=5000, calendar=SHOP, seed=1)
    first_slow = next(case for case in found.cases if case.monday > fast[-1].day)
    assert first_slow.held is False


def test_a_case_whose_day_has_not_come_is_left_open():
    found = backtest(history(6)[:26], tie_ins=5000, calendar=SHOP, seed=1)  # the last day is a Monday
    assert found.cases[-1].came is None
    assert found.cases[-1].held is None
    assert found.judged == len(found.cases) - 1


def test_too_short_a_past_says_so():
    assert backtest(history(1), tie_ins=500, calendar=SHOP, seed=1).say() == "no past Monday can be judged yet"


def test_the_result_is_said_with_its_counts():
    case = BackTestCase(FIRST, 50, said=FIRST, came=FIRST, held=True)
    missed = BackTestCase(FIRST, 50, said=FIRST, came=None, held=False)
    still = BackTestCase(FIRST, 50, said=FIRST, came=None, held=None)
    words = BackTest(85, (case, case, missed, still)).say()
    assert words == "on the last 3 Mondays the 85 % date held 2 of 3, 1 still open"
