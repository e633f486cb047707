"""What a bar is best filled with at given prices: one table over all filled lengths, in exact whole numbers.

best[f] is the greatest worth of pieces that fill exactly f (the bounded knapsack of Gilmore and Gomory 1961, solved for
every length at once), so one table prices every kind of bar, every drop and every cost that depends on what is left.
Counts are split in powers of two, and each part is one line of numpy.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

import numpy as np
import numpy.typing as npt

from cutlists.nesting.reduced import Counts

Whole = npt.NDArray[np.int64]
LEFT_OUT = -(1 << 60)
"""The worth of a width that no pattern may hold."""
NEVER = -(1 << 61)
"""The worth of a length that no pieces fill; far below any real worth, far above overflow."""


class FillTable:
    """The table for given widths, counts and longest bar, filled anew for each set of prices."""

    def __init__(self, widths: Sequence[int], counts: Sequence[int], limit: int) -> None:
        self.limit = limit
        self.parts: list[tuple[int, int, int]] = []
        for item in range(len(widths) - 1, -1, -1):
            self.parts += [
                (item, part, part * widths[item]) for part in parts_of(min(counts[item], limit // widths[item]))
            ]
        self.best: Whole = np.empty(limit + 1, dtype=np.int64)
        self._room: Whole = np.empty(limit + 1, dtype=np.int64)
        self._taken = np.zeros((len(self.parts), limit + 1), dtype=np.bool_)
        self._rows: list[int] = []
        tops = accumulate(width for _, _, width in self.parts)
        self._lines = [self._line(row, min(limit, top) + 1) for row, top in enumerate(tops)]

    def price(self, worth: Sequence[int]) -> Whole:
        """best[f] for every f up to the limit; NEVER (or close to it) where f can't be filled.

        Widths whose worth is LEFT_OUT stay out.
        """
        self.best.fill(NEVER)
        self.best[0] = 0
        add, greater, maximum = np.add, np.greater, np.maximum
        self._rows = [row for row, part in enumerate(self.parts) if worth[part[0]] != LEFT_OUT]
        for row in self._rows:
            item, part, _ = self.parts[row]
            before, with_part, old, taken = self._lines[row]
            add(before, part * worth[item], out=with_part)
            greater(with_part, old, out=taken)
            maximum(with_part, old, out=old)
        return self.best

    def _line(self, row: int, top: int) -> tuple[Whole, Whole, Whole, npt.NDArray[np.bool_]]:
        """Views for one part: the table before it, room for the table with it, the places it goes to, its marks."""
        width = self.parts[row][2]
        return self.best[: top - width], self._room[: top - width], self.best[width:top], self._taken[row, width:top]

    def pattern(self, fill: int) -> Counts:
        """The pieces behind best[fill]."""
        counts: dict[int, int] = {}
        for row in reversed(self._rows):
            if not fill:
                break
            if self._taken[row, fill]:
                item, part, width = self.parts[row]
                counts[item] = counts.get(item, 0) + part
                fill -= width
        return tuple(sorted(counts.items()))


def parts_of(count: int) -> list[int]:
    """Powers of two and a rest that together make every number up to count.

    >>> parts_of(10)
    [1, 2, 4, 3]
    """
    parts = []
    part = 1
    while count > 0:
        parts.append(min(part, count))
        count -= part
        part *= 2
    return parts
