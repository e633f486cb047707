"""The best plan so far and the best bound so far: the only place where either changes."""

from __future__ import annotations

from collections.abc import Callable

from cutlists.nesting.covering import Covering
from cutlists.nesting.reduced import Layout, Reduced

Progress = Callable[[int, int], None]
"""Told the new stock of the best plan and the bound, whenever one of them gets better."""


class Record:
    """Best layout on the four levels in their order, and what no plan can beat."""

    def __init__(self, reduced: Reduced, layout: Layout, progress: Progress | None = None) -> None:
        self.reduced = reduced
        self.layout = layout
        self.levels = reduced.levels(layout)
        self.bound = 0
        self.progress = progress
        self.covering = Covering(reduced, self.used)
        self.at_least(0)

    @property
    def used(self) -> int:
        """New stock of the best plan."""
        return self.levels[0]

    @property
    def proven(self) -> bool:
        """Whether no plan uses less new stock."""
        return self.bound >= self.used

    def offer(self, layout: Layout | None) -> bool:
        """Keep a plan if it is better on the levels; whether it was kept."""
        if layout is None:
            return False
        levels = self.reduced.levels(layout)
        if levels >= self.levels:
            return False
        less = levels[0] < self.used
        self.layout, self.levels = layout, levels
        if less:
            self._tell()
        return True

    def at_least(self, bound: int) -> None:
        """No plan uses less new stock than this, so none uses less than the next total that bars can add up to."""
        lifted = min(self.covering.lift(bound), self.used)
        if lifted > self.bound:
            self.bound = lifted
            self._tell()

    def _tell(self) -> None:
        if self.progress is not None:
            self.progress(self.used, self.bound)
