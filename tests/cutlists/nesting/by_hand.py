"""Answers found without the package: every way to cut a few pieces, and plain first-fit and best-fit on lists."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from hypothesis import strategies as st

from cutlists.nesting.problem import Demand, Problem, Stock

Opened = list[tuple[Stock, list[int]]]


def all_levels(problem: Problem) -> list[tuple[int, int, int, int]]:
    """The four levels of every plan there is; for a handful of pieces."""
    pieces = sorted((demand.length for demand in problem.demand for _ in range(demand.count)), reverse=True)
    left = {stock.id: len(pieces) if stock.count is None else stock.count for stock in problem.stock}
    return [levels_of(problem, plan) for plan in _every_plan(problem, pieces, left)]


def levels_of(problem: Problem, plan: Opened) -> tuple[int, int, int, int]:
    """New stock, scrap and drops, minus the longest drop, patterns: straight from the words of the four levels."""
    new_stock = waste = longest = 0
    patterns = set()
    for stock, lengths in plan:
        usable = stock.length - (problem.trim if stock.trim is None else stock.trim)
        drop = max(0, usable - sum(length + problem.kerf for length in lengths))
        cost = stock.length if stock.cost is None else stock.cost
        new_stock += 0 if stock.remnant else cost
        if drop and drop >= problem.keep_from:
            waste += problem.keep_from if problem.drop_price is None else problem.drop_price
            longest = max(longest, drop)
        else:
            waste += drop
        patterns.add((usable, tuple(sorted(lengths))))
    return new_stock, waste, -longest, len(patterns)


def holds(problem: Problem, stock: Stock, lengths: list[int]) -> bool:
    """Whether the pieces with a kerf between neighbours fit a bar."""
    usable = stock.length - (problem.trim if stock.trim is None else stock.trim)
    return sum(lengths) + problem.kerf * (len(lengths) - 1) <= usable


def fitted(problem: Problem, lengths: list[int], order: list[Stock], *, best: bool) -> Opened | None:
    """First-fit or best-fit in the order given, opening bars in the order given."""
    plan: Opened = []
    left = {stock.id: len(lengths) if stock.count is None else stock.count for stock in order}
    for length in lengths:
        open_bars = [(stock, cuts) for stock, cuts in plan if holds(problem, stock, [*cuts, length])]
        if open_bars:
            bar = min(open_bars, key=lambda b: _room(problem, b)) if best else open_bars[0]
            bar[1].append(length)
            continue
        stock = next((s for s in order if left[s.id] and holds(problem, s, [length])), None)
        if stock is None:
            return None
        left[stock.id] -= 1
        plan.append((stock, [length]))
    return plan


def _room(problem: Problem, bar: tuple[Stock, list[int]]) -> int:
    stock, cuts = bar
    return stock.length - (problem.trim if stock.trim is None else stock.trim) - sum(cuts) - problem.kerf * len(cuts)


def _every_plan(problem: Problem, pieces: list[int], left: dict[str, int]) -> Iterator[Opened]:
    if not pieces:
        yield []
        return
    first, others = pieces[0], pieces[1:]
    for size in range(len(others) + 1):
        for chosen in {tuple(others[i] for i in places) for places in combinations(range(len(others)), size)}:
            lengths = [first, *chosen]
            rest = list(others)
            for length in chosen:
                rest.remove(length)
            for stock in problem.stock:
                if left[stock.id] and holds(problem, stock, lengths):
                    left[stock.id] -= 1
                    yield from ([(stock, lengths), *plan] for plan in _every_plan(problem, rest, left))
                    left[stock.id] += 1


@st.composite
def problems(draw: st.DrawFn, *, most_pieces: int = 5, longest: int = 40, most_stock: int = 3) -> Problem:
    """Problems of every sort: limited and unlimited bars, drops, nominal prices, kerf, trim; some without a plan."""
    lengths = draw(st.lists(st.integers(1, longest), min_size=1, max_size=most_pieces))
    demand = tuple(Demand(f"P{n}", length, 1) for n, length in enumerate(lengths))
    stock = tuple(draw(_stock(f"S{n}", longest)) for n in range(draw(st.integers(1, most_stock))))
    return Problem(
        kerf=draw(st.integers(0, 3)),
        trim=draw(st.integers(0, 2)),
        keep_from=draw(st.sampled_from([0, 5, 10, 30])),
        stock=stock,
        demand=demand,
        drop_price=draw(st.sampled_from([None, 0, 4])),
    )


@st.composite
def _stock(draw: st.DrawFn, name: str, longest: int) -> Stock:
    return Stock(
        name,
        draw(st.integers(longest // 2, 2 * longest)),
        draw(st.sampled_from([None, None, 1, 2])),
        draw(st.sampled_from([None, 10, 21])),
        remnant=draw(st.booleans()),
        trim=draw(st.sampled_from([None, 0, 1])),
    )
