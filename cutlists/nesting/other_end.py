"""A fill that failed at the end: keep its first bars, plan the last ones anew by column generation and a dive.

Exact fills lose nothing on the first bars, but the pieces left at the end may all be of one size. The last bars hold
few enough pieces for the dearer way, and enough to choose from.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

from cutlists.nesting.fill_plans import Filled, capacity_of
from cutlists.nesting.first_fit import best_fit, decreasing, preferences
from cutlists.nesting.least_stock import LeastStock
from cutlists.nesting.master import SolverTrouble
from cutlists.nesting.record import Record
from cutlists.nesting.reduced import Layout, Reduced
from cutlists.nesting.watch import Stopped, Watch

PIECES_AT_THE_END = 120
SPARE_BARS = 4
"""Bars of each kind that the first plan for the end may open beyond those chosen."""
SHARE_OF_TIME = 0.25
LARGE = 2_000_000
"""Cells of the table of exact fills from which on the whole problem takes too long at once."""


def with_other_end(record: Record, failures: Sequence[Filled], watch: Watch) -> Layout | None:
    """The first bars of the most promising failed fill with a new plan for the rest; None if too little is kept.

    That is the one with the least new stock, and of these the one whose bars hold most.
    """
    reduced = record.reduced
    if not failures or len(reduced.widths) * reduced.longest < LARGE:
        return None
    failed = min(failures, key=lambda f: (_new_stock(reduced, f), -capacity_of(reduced, f.bars)))
    kept = _first_bars(reduced, failed.layout)
    if not kept:
        return None
    numbers, rest = _rest_after(reduced, kept, failed)
    first = best_fit(rest, decreasing(rest), next(preferences(rest)))
    if first is None:
        return None
    end = Record(rest, first)
    with suppress(Stopped, SolverTrouble):
        LeastStock(rest, end, watch.part(SHARE_OF_TIME, watch.left)).approach()
    watch.check()
    for (kind, counts), times in end.layout.items():
        pattern = (numbers[kind], counts)
        kept[pattern] = kept.get(pattern, 0) + times
    return kept


def _new_stock(reduced: Reduced, filled: Filled) -> int:
    return sum(reduced.kinds[kind].cost * count for kind, count in filled.bars)


def _first_bars(reduced: Reduced, failed: Layout) -> Layout:
    """The bars opened first, so that enough pieces are left over for the end."""
    kept: Layout = {}
    left = reduced.number_of_pieces
    for (kind, counts), times in failed.items():
        pieces = times * sum(count for _, count in counts)
        if left - pieces < PIECES_AT_THE_END:
            break
        kept[kind, counts] = times
        left -= pieces
    return kept


def _rest_after(reduced: Reduced, kept: Layout, failed: Filled) -> tuple[list[int], Reduced]:
    """What is left to cut from the bars chosen and not kept, a few spare ones added; and the numbers of their kinds."""
    demand = list(reduced.demand)
    opened = [0] * len(reduced.kinds)
    for (kind, cut), times in kept.items():
        opened[kind] += times
        for item, count in cut:
            demand[item] -= count * times
    counts = [0] * len(reduced.kinds)
    for kind, count in failed.bars:
        if count > opened[kind]:
            counts[kind] = min(count + SPARE_BARS, reduced.kinds[kind].count) - opened[kind]
    numbers = [kind for kind, count in enumerate(counts) if count]
    rest = reduced.rest(demand, counts)
    return numbers, replace(rest, kinds=tuple(rest.kinds[number] for number in numbers))
