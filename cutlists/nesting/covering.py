"""Which new bars could hold everything, for each total of new stock: the covering bound and what it opens.

A one-row integer program, solved by a table over the totals that bars can add up to (sums of 21s and 40s). No plan has
a total in between, so any bound may be lifted to the next total whose bars can hold all the widths.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import gcd

import numpy as np

from cutlists.nesting.pricing import NEVER, Whole, parts_of
from cutlists.nesting.reduced import Reduced

TABLE_LIMIT = 30_000_000
"""Cells in the table beyond which only the rate per length is used."""


class Covering:
    """For each total of new stock up to a known plan's: the most that its bars can hold."""

    def __init__(self, reduced: Reduced, known: int) -> None:
        self.reduced = reduced
        self.free = sum(kind.capacity * kind.count for kind in reduced.kinds if not kind.cost)
        self.needed = max(0, reduced.total - self.free)
        self.new = [number for number, kind in enumerate(reduced.kinds) if kind.count and 0 < kind.cost <= known]
        self.step = gcd(*(reduced.kinds[number].cost for number in self.new)) or known + 1  # no new bars: only total 0
        self.size = known // self.step + 1
        self.parts = [
            (number, part)
            for number in self.new
            for part in parts_of(min(reduced.kinds[number].count, known // reduced.kinds[number].cost))
        ]
        self.table = self._fill_table() if len(self.parts) * self.size <= TABLE_LIMIT else None

    def lift(self, bound: int) -> int:
        """The least total at or above `bound` whose bars can hold everything; `bound` itself where none can."""
        if self.table is None:
            return max(bound, self._by_rate())
        following = self._at_or_above(bound)
        return bound if following is None else following

    def totals(self, first: int, below: int) -> Iterator[int]:
        """Totals from `first` on, below `below`, that could hold everything."""
        total = self._at_or_above(first)
        while total is not None and total < below:
            yield total
            total = self._at_or_above(total + 1)

    def _at_or_above(self, bound: int) -> int | None:
        if self.table is None:
            return None
        first = -(-max(bound, 0) // self.step)
        good = np.flatnonzero(self.table[first:] >= self.needed)
        return (first + int(good[0])) * self.step if len(good) else None

    def bars(self, total: int) -> list[tuple[int, int]]:
        """The bars (kind, how many) that hold most for this total of new stock."""
        chosen: dict[int, int] = {}
        place = total // self.step
        for (kind, part), taken in zip(reversed(self.parts), reversed(self._taken), strict=True):
            if taken[place]:
                chosen[kind] = chosen.get(kind, 0) + part
                place -= part * self.reduced.kinds[kind].cost // self.step
        return sorted(chosen.items())

    def _fill_table(self) -> Whole:
        """The most that bars adding up to each total can hold: a bounded knapsack, counts in powers of two."""
        table: Whole = np.full(self.size, NEVER, dtype=np.int64)
        table[0] = 0
        self._taken = np.zeros((len(self.parts), self.size), dtype=np.bool_)
        for row, (kind, part) in enumerate(self.parts):
            stride = part * self.reduced.kinds[kind].cost // self.step
            with_part = table[: self.size - stride] + part * self.reduced.kinds[kind].capacity
            np.greater(with_part, table[stride:], out=self._taken[row, stride:])
            np.maximum(with_part, table[stride:], out=table[stride:])
        return table

    def _by_rate(self) -> int:
        """What the length costs at the cheapest rate, where the table would be too big."""
        kinds = (self.reduced.kinds[number] for number in self.new)
        bound, needed = 0, self.needed
        for kind in sorted(kinds, key=lambda k: (k.cost / k.capacity, k.capacity)):
            if needed <= kind.capacity * kind.count:
                return bound + -(-needed * kind.cost // kind.capacity)
            bound += kind.cost * kind.count
            needed -= kind.capacity * kind.count
        return bound
