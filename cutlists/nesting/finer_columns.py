"""Patterns for level 2: column generation on scrap and drops, new stock held at what level 1 has reached.

The table of exact fills prices any cost that depends on what is left of the bar, so scrap and the price of a drop need
nothing new. Pieces are cut exactly as often as asked for, or they would be "cut" to fill scrap.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cutlists.nesting.master import Master, Relaxed
from cutlists.nesting.pricing import NEVER, FillTable, Whole
from cutlists.nesting.record import Record
from cutlists.nesting.reduced import Pattern
from cutlists.nesting.watch import Watch

ROUNDS = 60
FILLS_A_KIND = 3
GRAIN = 10**6
DEAR_COVER = 100.0


def finer_patterns(record: Record, seeds: Sequence[Pattern], watch: Watch) -> list[Pattern]:
    """The seeds and the patterns that could lessen scrap and drops; raises Stopped when time is up."""
    reduced = record.reduced
    scale = float(max(1, reduced.drop_price, reduced.keep_from))
    master = Master(reduced, scale, watch, ceiling=record.used)
    master.raise_cover(DEAR_COVER)
    master.add((pattern, reduced.waste(pattern[0], reduced.filled(pattern[1]))) for pattern in seeds)
    wastes = _wastes(record)
    table = FillTable(reduced.widths, reduced.demand, max(kind.capacity for kind in reduced.kinds))
    for _ in range(ROUNDS):
        watch.check()
        relaxed = master.solve()
        best = table.price([round(price * GRAIN) for price in relaxed.worth])
        fresh = [
            pair
            for kind in range(len(reduced.kinds))
            for pair in _helpful(record, kind, (table, best), wastes, relaxed)
        ]
        if not master.add(fresh):
            break
    return master.patterns


def _wastes(record: Record) -> list[Whole]:
    """For each kind: what a bar counts on level 2 for every filled length."""
    reduced = record.reduced
    wastes = []
    for kind in reduced.kinds:
        left = np.maximum(0, kind.room - reduced.kerf - reduced.unit * np.arange(kind.capacity + 1, dtype=np.int64))
        wastes.append(np.where((left > 0) & (left >= reduced.keep_from), reduced.drop_price, left))
    return wastes


def _helpful(
    record: Record, kind: int, priced: tuple[FillTable, Whole], wastes: list[Whole], relaxed: Relaxed
) -> list[tuple[Pattern, int]]:
    """The patterns of one kind with the least reduced cost, if that is below 0."""
    table, best = priced
    top = best[: len(wastes[kind])]
    fixed = relaxed.kind_worth.get(kind, 0.0) + relaxed.ceiling_worth * record.reduced.kinds[kind].cost
    reduced_cost = wastes[kind] - top / GRAIN - fixed
    reduced_cost[top < NEVER // 2] = np.inf
    reduced_cost[0] = np.inf
    fills = np.argsort(reduced_cost, kind="stable")[:FILLS_A_KIND].tolist()
    return [((kind, table.pattern(fill)), int(wastes[kind][fill])) for fill in fills if reduced_cost[fill] < -1e-6]
