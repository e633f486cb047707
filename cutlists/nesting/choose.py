"""Choose whole bars among given patterns, level by level: integer programs that HiGHS solves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import gcd

from cutlists.nesting.program import UNLIMITED, Choice, Program
from cutlists.nesting.reduced import Layout, Pattern, Reduced


def choose_total(
    reduced: Reduced, patterns: Sequence[Pattern], total: int, seconds: float, stop: Callable[[], bool]
) -> Choice:
    """A plan that uses exactly `total` of new stock, from these patterns only, every piece exactly as often as wanted.

    There is nothing to minimise, which HiGHS answers far sooner than a minimum: either a plan exists or none does.
    """
    program = Program(reduced, patterns, [0] * len(patterns))
    costs = [reduced.kinds[kind].cost for kind, _ in patterns]
    unit = gcd(*costs) or 1
    program.rows_for_demand(exactly=True)
    program.row(total // unit, total // unit, enumerate(cost // unit for cost in costs))
    return program.solve(seconds, stop)


def choose_at_most(
    reduced: Reduced, patterns: Sequence[Pattern], total: int, seconds: float, stop: Callable[[], bool]
) -> Choice:
    """The plan with least new stock, at most `total`, from these patterns only, every piece as often as wanted."""
    costs = [reduced.kinds[kind].cost for kind, _ in patterns]
    unit = gcd(*costs) or 1
    program = Program(reduced, patterns, [cost // unit for cost in costs])
    program.rows_for_demand(exactly=True)
    program.row(-UNLIMITED, total // unit, enumerate(cost // unit for cost in costs))
    return program.solve(seconds, stop)


def choose_cover(
    reduced: Reduced, patterns: Sequence[Pattern], bound: int, seconds: float, stop: Callable[[], bool]
) -> Choice:
    """The plan with least new stock that these patterns give; pieces cut too often are left out again."""
    costs = [reduced.kinds[kind].cost for kind, _ in patterns]
    unit = gcd(*costs) or 1
    program = Program(reduced, patterns, [cost // unit for cost in costs])
    program.rows_for_demand(exactly=False)
    program.highs.setOptionValue("objective_target", float(-(-bound // unit)))
    choice = program.solve(seconds, stop)
    return choice if choice.layout is None else Choice(without_surplus(reduced, choice.layout), choice.closed)


def without_surplus(reduced: Reduced, layout: Layout) -> Layout:
    """A plan that cuts too much with the surplus left out, from the emptiest bars first."""
    surplus = [-wanted for wanted in reduced.demand]
    for (_, counts), times in layout.items():
        for item, count in counts:
            surplus[item] += count * times
    trimmed: Layout = {}
    order = sorted(layout, key=lambda p: (reduced.filled(p[1]) - reduced.kinds[p[0]].capacity, p))
    for kind, counts in order:
        for _ in range(layout[kind, counts]):
            cut = []
            for item, count in counts:
                less = min(count, max(0, surplus[item]))
                surplus[item] -= less
                if count > less:
                    cut.append((item, count - less))
            if cut:
                trimmed[kind, tuple(cut)] = trimmed.get((kind, tuple(cut)), 0) + 1
    return trimmed
