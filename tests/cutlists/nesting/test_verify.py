"""The verifier finds every way to spoil a plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlists.nesting.problem import Bar, Demand, Plan, Problem, Stock
from cutlists.nesting.solve import solve
from cutlists.nesting.verify import verify

PROBLEM = Problem(
    2, 1, 20, (Stock("R21", 252, 4), Stock("D9", 60, 1, remnant=True)), (Demand("A", 61, 7), Demand("B", 40, 2))
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return solve(PROBLEM)


def test_a_good_plan_has_no_complaint(plan: Plan) -> None:
    assert verify(PROBLEM, plan) == []


def test_a_missing_bar_is_seen(plan: Plan) -> None:
    assert any("asked for" in text for text in verify(PROBLEM, replace(plan, bars=plan.bars[1:])))


def test_a_bar_cut_twice_too_often_is_seen(plan: Plan) -> None:
    more = (replace(plan.bars[0], times=plan.bars[0].times + 4), *plan.bars[1:])
    complaints = verify(PROBLEM, replace(plan, bars=more))
    assert any("opened" in text for text in complaints)


def test_a_piece_that_does_not_fit_is_seen(plan: Plan) -> None:
    bad = Bar("D9", ("A",), 1, 0)
    assert any("its cuts and kerfs need 61" in text for text in verify(PROBLEM, replace(plan, bars=(*plan.bars, bad))))


def test_a_kerf_left_out_is_seen() -> None:
    problem = Problem(2, 0, 20, (Stock("S", 100),), (Demand("A", 50, 2),))
    levels = solve(problem).levels
    cheat = Plan((Bar("S", ("A", "A"), 1, 0),), 100, 100, proven=True, seconds=0.0, word="", levels=levels)
    assert any("need 102; S has 100" in text for text in verify(problem, cheat))


def test_a_wrong_drop_is_seen(plan: Plan) -> None:
    bad = (replace(plan.bars[0], drop=plan.bars[0].drop + 1), *plan.bars[1:])
    assert any("its drop is" in text for text in verify(PROBLEM, replace(plan, bars=bad)))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"stock_length_used": 1}, "of new stock"),
        ({"lower_bound": 10**6}, "lies above"),
        ({"lower_bound": 0}, "proven is said"),
        ({"word": "at most 1 bar from best"}, "its word"),
        ({"scrap": 10**6}, "its scrap"),
    ],
)
def test_a_wrong_total_is_seen(plan: Plan, change: dict[str, object], words: str) -> None:
    assert any(words in text for text in verify(PROBLEM, replace(plan, **change)))  # type: ignore[arg-type]


@pytest.mark.parametrize("bar", [Bar("X", ("A",), 1, 0), Bar("R21", ("Z",), 1, 0), Bar("R21", (), 1, 251)])
def test_a_stranger_or_an_empty_bar_is_seen(plan: Plan, bar: Bar) -> None:
    assert verify(PROBLEM, replace(plan, bars=(*plan.bars, bar)))
