"""Laws of the solver: what no plan may break, whatever the problem."""

from __future__ import annotations

from itertools import pairwise
from time import monotonic

import pytest
from hypothesis import HealthCheck, given, settings

from cutlists.nesting.problem import PROVEN, Demand, NotEnoughStock, Problem, Stock
from cutlists.nesting.reduced import reduce
from cutlists.nesting.solve import quick_plans, solve
from cutlists.nesting.verify import verify
from cutlists.nesting.watch import Watch
from tests.benchmarks import nesting_families as families
from tests.cutlists.nesting.by_hand import all_levels, fitted, levels_of, problems

SLOW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SLOW
@given(problems())
def test_few_pieces_get_the_best_plan_that_exists_on_all_four_levels(problem: Problem) -> None:
    every = all_levels(problem)
    if not every:
        with pytest.raises(NotEnoughStock):
            solve(problem, seconds=20)
        return
    plan = solve(problem, seconds=20)
    assert verify(problem, plan) == []
    assert plan.proven
    assert plan.levels.as_tuple() == min(every)


@SLOW
@given(problems(most_pieces=30, longest=60, most_stock=4))
def test_no_plan_is_worse_than_first_fit_best_fit_or_ticket_order(problem: Problem) -> None:
    tickets = [demand.length for demand in problem.demand]
    decreasing = sorted(tickets, reverse=True)
    drops_first = sorted(problem.stock, key=lambda stock: not stock.remnant)
    simple = [
        fitted(problem, lengths, order, best=best)
        for order in (list(problem.stock), drops_first)
        for lengths, best in ((decreasing, False), (decreasing, True), (tickets, False))
    ]
    try:
        plan = solve(problem, seconds=2)
    except NotEnoughStock:
        assert not any(simple)
        return
    assert verify(problem, plan) == []
    assert all(plan.levels.as_tuple() <= levels_of(problem, other) for other in simple if other)


def test_stock_that_cannot_suffice_is_refused_in_a_moment_however_fine_the_unit() -> None:
    """Costs without a common step once made every whole number below them a total to be tried."""
    short = Problem(
        kerf=71_900_238,
        trim=0,
        keep_from=0,
        stock=(
            Stock("short", 209_504_384, cost=0, remnant=True, trim=508_964_158),
            Stock("one", 328_632_729, count=1, cost=490_744_884, trim=0),
        ),
        demand=(Demand("A", 74_972_528, 2), Demand("B", 50_787_218, 1)),
    )
    started = monotonic()
    with pytest.raises(NotEnoughStock, match="doesn't suffice"):
        solve(short, seconds=1)
    assert monotonic() - started < 60  # it used to run for hours


def test_with_no_time_at_all_one_quick_plan_is_made_and_no_more() -> None:
    many = Problem(0, 0, 0, (Stock("b", 10_000),), tuple(Demand(str(n), 100 + n) for n in range(900)))
    made = list(quick_plans(many, reduce(many), Watch(0)))
    assert len(made) == 1
    assert len(list(quick_plans(many, reduce(many), Watch(60)))) > 1


@SLOW
@given(problems(most_pieces=12))
def test_the_bound_never_lies_above_the_plan_and_the_word_says_what_is_so(problem: Problem) -> None:
    try:
        plan = solve(problem, seconds=0)
    except NotEnoughStock:
        return
    assert plan.lower_bound <= plan.stock_length_used
    assert (plan.word == PROVEN) == (plan.lower_bound == plan.stock_length_used)


@pytest.mark.parametrize("family", sorted(families.FAMILIES))
def test_each_family_is_proven(family: str) -> None:
    problem = families.FAMILIES[family](1)
    plan = solve(problem, seconds=60)
    assert verify(problem, plan) == []
    assert plan.proven


def test_a_problem_whose_best_plan_lies_above_the_rounded_up_relaxation_is_proven_all_the_same() -> None:
    problem = families.above_round_up()
    plan = solve(problem, seconds=60)
    assert verify(problem, plan) == []
    assert plan.proven
    assert plan.stock_length_used == 65


def test_a_pipe_day_is_proven_with_next_to_no_scrap() -> None:
    problem = families.pipe_day(1)
    plan = solve(problem, seconds=30)
    assert verify(problem, plan) == []
    assert plan.proven
    assert plan.scrap * 1000 <= sum(demand.length * demand.count for demand in problem.demand)


def test_the_same_problem_gives_the_same_plan() -> None:
    problem = families.triplets(3, pieces=60)
    first, second = solve(problem, seconds=60), solve(problem, seconds=60)
    assert (first.bars, first.lower_bound) == (second.bars, second.lower_bound)


def test_a_cancelled_run_keeps_a_plan() -> None:
    problem = families.scholl_3(2)
    plan = solve(problem, seconds=60, cancelled=lambda: True)
    assert verify(problem, plan) == []
    assert plan.seconds < 5


def test_progress_tells_better_plans_and_better_bounds_only() -> None:
    told: list[tuple[int, int]] = []
    plan = solve(families.triplets(5), seconds=60, progress=lambda used, bound: told.append((used, bound)))
    assert told[-1] == (plan.stock_length_used, plan.lower_bound)
    assert all(b[0] <= a[0] and b[1] >= a[1] for a, b in pairwise(told))


@pytest.mark.parametrize("per_inch", [16, 1_000_000])
def test_no_run_ends_a_second_after_its_limit(per_inch: int) -> None:
    problem = families.pipe_day(4, pieces=3000, per_inch=per_inch)
    begun = monotonic()
    plan = solve(problem, seconds=1)
    assert verify(problem, plan) == []
    assert monotonic() - begun < 1 + 1 + 4 * _seconds_of_first_plan(problem)


def test_nothing_to_cut_is_a_plan_of_no_bars() -> None:
    plan = solve(Problem(1, 0, 10, (Stock("R21", 252),), (Demand("A", 20, 0),)))
    assert plan.bars == ()
    assert plan.proven


def test_a_piece_longer_than_any_stock_is_named() -> None:
    stock = (Stock("R21", 252), Stock("D", 60, 1, remnant=True))
    problem = Problem(1, 4, 10, stock, (Demand("A", 249), Demand("B", 20)))
    with pytest.raises(NotEnoughStock, match=r"A \(249\)") as refusal:
        solve(problem)
    assert refusal.value.pieces == ("A",)


def test_pieces_that_limited_stock_can_not_hold_are_named() -> None:
    problem = Problem(0, 0, 10, (Stock("R21", 100, 2),), (Demand("A", 60, 2), Demand("B", 50)))
    with pytest.raises(NotEnoughStock, match="doesn't suffice"):
        solve(problem)


def test_stock_that_first_fit_can_not_make_do_with_is_made_do_with() -> None:
    lengths = [6, 5, 5, 4, 4, 3, 3]
    demand = tuple(Demand(f"P{n}", length) for n, length in enumerate(lengths))
    problem = Problem(0, 0, 0, (Stock("S", 10, 3),), demand)
    plan = solve(problem)
    assert verify(problem, plan) == []
    assert plan.bars_used == 3


def test_a_last_cut_may_run_out_of_the_end_and_a_flush_piece_needs_no_kerf() -> None:
    problem = Problem(2, 0, 5, (Stock("S", 104),), (Demand("A", 50, 2), Demand("B", 51), Demand("C", 52)))
    plan = solve(problem)
    assert verify(problem, plan) == []
    assert [bar.drop for bar in plan.bars] == [0, 0]
    flush = solve(Problem(2, 0, 5, (Stock("S", 102),), (Demand("A", 50, 2),)))
    assert [(bar.cuts, bar.drop) for bar in flush.bars] == [(("A", "A"), 0)]


def test_a_trim_of_its_own_replaces_the_common_one() -> None:
    problem = Problem(0, 5, 5, (Stock("D", 50, 1, remnant=True, trim=0), Stock("S", 100)), (Demand("A", 50),))
    assert solve(problem).bars[0].stock == "D"


def _seconds_of_first_plan(problem: Problem) -> float:
    """How long this machine, as busy as it is now, takes for the quick plans alone."""
    begun = monotonic()
    solve(problem, seconds=0)
    return monotonic() - begun
