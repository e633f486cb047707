"""The exact parts against plain enumeration: fills, tables, bounds, critical patterns, totals of new stock."""

from __future__ import annotations

from itertools import product
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlists.nesting.bounds import Prices, best_fills, dual_bound
from cutlists.nesting.covering import Covering
from cutlists.nesting.critical import TooMany, all_patterns, critical_patterns
from cutlists.nesting.exact_fill import ExactFill
from cutlists.nesting.pricing import FillTable
from cutlists.nesting.problem import Demand, NotEnoughStock, Problem, Stock
from cutlists.nesting.reduced import Reduced, reduce
from cutlists.nesting.watch import Watch
from tests.cutlists.nesting.by_hand import all_levels, problems

PIECES = st.lists(st.tuples(st.integers(1, 30), st.integers(1, 3), st.integers(0, 50)), min_size=1, max_size=5)


def every_count(counts: list[int]) -> list[tuple[int, ...]]:
    """Every way to take some of each."""
    return list(product(*(range(count + 1) for count in counts)))


@given(PIECES, st.integers(1, 80))
def test_a_fill_is_the_fullest_there_is(pieces: list[tuple[int, int, int]], capacity: int) -> None:
    rows = sorted(pieces, reverse=True)
    widths, counts = [row[0] for row in rows], [row[1] for row in rows]
    sums = [sum(w * n for w, n in zip(widths, taken, strict=True)) for taken in every_count(counts)]
    pattern = ExactFill(widths, counts, 80).fill(capacity)
    assert sum(widths[item] * count for item, count in pattern) == max(s for s in sums if s <= capacity)
    assert all(count <= counts[item] for item, count in pattern)


@given(PIECES, st.integers(1, 80), st.integers(1, 2))
def test_fills_after_pieces_were_taken_are_as_from_anew(
    pieces: list[tuple[int, int, int]], capacity: int, times: int
) -> None:
    rows = sorted(pieces, reverse=True)
    widths, counts = [row[0] for row in rows], [row[1] for row in rows]
    fill = ExactFill(widths, counts, 80)
    pattern = fill.fill(capacity)
    if not pattern:
        return
    often = min(times, fill.most_times(pattern))
    fill.take(pattern, often)
    left = list(counts)
    for item, count in pattern:
        left[item] -= count * often
    assert fill.done == (not any(left))
    assert fill.fill(capacity) == ExactFill(widths, left, 80).fill(capacity)


@given(PIECES, st.integers(5, 80))
def test_the_table_holds_the_greatest_worth_of_every_length(pieces: list[tuple[int, int, int]], limit: int) -> None:
    widths, counts, worth = ([row[i] for row in pieces] for i in range(3))
    best: dict[int, int] = {}
    for taken in every_count(counts):
        filled = sum(w * n for w, n in zip(widths, taken, strict=True))
        value = sum(v * n for v, n in zip(worth, taken, strict=True))
        best[filled] = max(best.get(filled, 0), value)
    table = FillTable(widths, counts, limit)
    priced = table.price(worth)
    for filled in range(limit + 1):
        assert (priced[filled] >= 0) == (filled in best)
        if filled in best:
            assert priced[filled] == best[filled]
            pattern = table.pattern(filled)
            assert sum(worth[item] * count for item, count in pattern) == best[filled]


@settings(deadline=None)
@given(problems(), st.lists(st.integers(0, 60), min_size=5, max_size=5))
def test_any_prices_give_a_bound_that_no_plan_beats(problem: Problem, prices: list[int]) -> None:
    reduced, every = _with_plans(problem)
    if reduced is None:
        return
    priced = _prices(reduced, prices)
    assert ceil(dual_bound(reduced, priced)) <= min(levels[0] for levels in every)


@settings(deadline=None)
@given(problems(most_pieces=4), st.lists(st.integers(0, 60), min_size=4, max_size=4))
def test_with_the_critical_patterns_alone_the_best_plan_can_still_be_cut(problem: Problem, prices: list[int]) -> None:
    reduced, every = _with_plans(problem)
    if reduced is None:
        return
    total = min(levels[0] for levels in every)
    kept = set(critical_patterns(reduced, _prices(reduced, prices), total, Watch(60), 10**6))
    assert _least_with(reduced, [p for p in all_patterns(reduced, 10**6) if p in kept]) == total


@settings(deadline=None)
@given(problems(most_pieces=4))
def test_no_total_of_new_stock_that_a_plan_has_is_skipped(problem: Problem) -> None:
    reduced, every = _with_plans(problem)
    if reduced is None:
        return
    worst = max(levels[0] for levels in every)
    totals = set(Covering(reduced, worst).totals(0, worst + 1))
    assert {levels[0] for levels in every} <= totals


def test_too_many_patterns_are_refused() -> None:
    demand = tuple(Demand(f"P{length}", length) for length in range(31, 61))
    with pytest.raises(TooMany):
        all_patterns(reduce(Problem(0, 0, 0, (Stock("S", 900),), demand)), 1000)


def _with_plans(problem: Problem) -> tuple[Reduced | None, list[tuple[int, int, int, int]]]:
    every = all_levels(problem)
    try:
        return (reduce(problem), every) if every else (None, [])
    except NotEnoughStock:
        return None, []


def _prices(reduced: Reduced, prices: list[int]) -> Prices:
    worth = prices[: len(reduced.widths)]
    table = FillTable(reduced.widths, reduced.demand, reduced.longest)
    fills = best_fills(table.price(worth), [kind.capacity for kind in reduced.kinds])
    return Prices(worth, fills, grain=3)


def _least_with(reduced: Reduced, patterns: list[tuple[int, tuple[tuple[int, int], ...]]]) -> int:
    """Least new stock with these patterns only, by trying everything."""

    def search(left: tuple[int, ...], bars: tuple[int, ...]) -> float:
        if not any(left):
            return 0
        first = next(item for item, count in enumerate(left) if count)
        best = float("inf")
        for kind, counts in patterns:
            taken = dict(counts)
            if first in taken and bars[kind] and all(left[item] >= count for item, count in counts):
                less = tuple(count - taken.get(item, 0) for item, count in enumerate(left))
                fewer = tuple(count - (n == kind) for n, count in enumerate(bars))
                best = min(best, reduced.kinds[kind].cost + search(less, fewer))
        return best

    return int(search(reduced.demand, tuple(kind.count for kind in reduced.kinds)))
