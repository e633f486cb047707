"""From a problem to a plan: quick plans first, then bounds and proof, then the finer levels, within the time given."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from math import inf

from cutlists.nesting.bars import name_bars
from cutlists.nesting.fill_plans import BITS_LIMIT, Filled, fill_plans
from cutlists.nesting.finer import finer_levels
from cutlists.nesting.first_fit import Run, as_listed, best_fit, decreasing, first_fit, preferences
from cutlists.nesting.least_stock import LeastStock
from cutlists.nesting.master import SolverTrouble
from cutlists.nesting.other_end import with_other_end
from cutlists.nesting.problem import PROVEN, Levels, NotEnoughStock, Plan, Problem
from cutlists.nesting.record import Progress, Record
from cutlists.nesting.reduced import Layout, Pattern, Reduced, reduce
from cutlists.nesting.verify import measure, scrap_of
from cutlists.nesting.watch import Stopped, Watch

FOR_LEVEL_1 = 0.8
"""Part of the time that may go into level 1 where it stays open; the rest is for scrap and drops."""


def solve(
    problem: Problem,
    *,
    seconds: float = 10.0,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Plan:
    """The best plan found in the time, with a word on how good it is; raises NotEnoughStock."""
    watch = Watch(seconds, cancelled)
    reduced = reduce(problem)
    if not reduced.widths:
        return Plan((), 0, 0, proven=True, seconds=watch.spent, word=PROVEN, levels=Levels(0, 0, 0, 0))
    first = min(quick_plans(problem, reduced, watch), key=reduced.levels)
    record = Record(reduced, first, progress)
    with suppress(Stopped, SolverTrouble):
        search(record, watch)
    _refuse_shortfall(reduced, record)
    return _plan(problem, reduced, record, watch)


def search(record: Record, watch: Watch) -> None:
    """Better plans and better bounds until both meet, then the finer levels; raises Stopped when time is up."""
    reduced = record.reduced
    watch.check()
    seeds: list[Pattern] = []
    failed: list[Filled] = []
    grid = reduced.on_grid(BITS_LIMIT)
    for filled in fill_plans(grid, record.covering, record.bound, record.used, watch):
        seeds += list(filled.layout)
        if filled.complete:
            record.offer(filled.layout)
        else:
            failed.append(filled)
    if not record.proven:
        record.offer(with_other_end(record, failed, watch))
    if not record.proven:
        search = LeastStock(reduced, record, watch.part(FOR_LEVEL_1, inf), seeds)
        with suppress(Stopped, SolverTrouble):
            search.run()
        seeds = search.patterns
    watch.check()
    finer_levels(record, seeds, watch)


def quick_plans(problem: Problem, reduced: Reduced, watch: Watch) -> Iterator[Layout]:
    """What a saw hand would do: first-fit and best-fit decreasing and ticket order, for each order of opening bars.

    One plan there always is; the others while there is time.
    """
    runs, tickets = decreasing(reduced), ticket_order(problem, reduced)
    names = [stock.id for stock in problem.stock]
    drops_first = [stock.id for stock in sorted(problem.stock, key=lambda stock: not stock.remnant)]
    listed = [as_listed(reduced, order) for order in (names, drops_first)]
    made = False
    merged = tuple(dict.fromkeys(listed[0]))
    for preference in dict.fromkeys([merged, *preferences(reduced), *listed]):
        for fit, order in ((first_fit, runs), (best_fit, runs), (first_fit, tickets)):
            layout = fit(reduced, order, preference)
            if layout is not None:
                yield layout
                made = True
            if made and watch.over():
                return


def ticket_order(problem: Problem, reduced: Reduced) -> list[Run]:
    """The pieces in the order in which they were asked for."""
    number = {name: item for item, names in enumerate(reduced.pieces) for name, _ in names}
    return [(number[demand.id], demand.count) for demand in problem.demand if demand.count]


def word_for(reduced: Reduced, used: int, bound: int) -> str:
    """How far the plan can be from the best, in bars of the cheapest new kind."""
    if used == bound:
        return PROVEN
    cheapest = min(kind.cost for kind in reduced.kinds if kind.cost)
    most = -(-(used - bound) // cheapest)
    return f"at most {most} bar{'' if most == 1 else 's'} from best"


def _refuse_shortfall(reduced: Reduced, record: Record) -> None:
    """Name the pieces that are left over where the stock doesn't suffice."""
    short = [counts for kind, counts in record.layout if kind == reduced.shortfall]
    if reduced.shortfall is None or not short:
        return
    items = sorted({item for counts in short for item, _ in counts})
    names = tuple(name for item in items for name, _ in reduced.pieces[item])
    shown = ", ".join(names[:12]) + (f" and {len(names) - 12} more" if len(names) > 12 else "")
    surely = record.bound >= reduced.kinds[reduced.shortfall].cost
    reason = "the stock doesn't suffice" if surely else "no plan was found for the stock there is"
    raise NotEnoughStock(f"{reason}; left over: {shown}; add bars or take pieces out", names)


def _plan(problem: Problem, reduced: Reduced, record: Record, watch: Watch) -> Plan:
    bars = name_bars(problem, reduced, record.layout)
    levels = measure(problem, bars)
    return Plan(
        bars=bars,
        stock_length_used=levels.new_stock,
        lower_bound=record.bound,
        proven=record.bound == levels.new_stock,
        seconds=watch.spent,
        word=word_for(reduced, levels.new_stock, record.bound),
        levels=levels,
        scrap=scrap_of(problem, bars),
    )
