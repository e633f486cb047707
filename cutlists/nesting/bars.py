"""From a layout in widths and kinds back to bars with the ids of stock and pieces."""

from __future__ import annotations

from collections import deque

from cutlists.nesting.problem import Bar, Problem
from cutlists.nesting.reduced import Layout, Reduced


class _Line:
    """Ids in their order, each with how many are left."""

    def __init__(self, entries: tuple[tuple[str, int], ...]) -> None:
        self.names = deque(name for name, _ in entries)
        self.left = deque(count for _, count in entries)

    def alike(self, size: int) -> int:
        """How many groups of this size the first id still gives by itself; 1 where a group must be mixed."""
        return max(1, self.left[0] // size)

    def take(self, size: int, times: int) -> list[str]:
        """The ids of one group; takes `times` groups away (more than one only where they are alike)."""
        if times > 1:
            return self._from_first(size, size * times)
        names: list[str] = []
        while len(names) < size:
            part = min(size - len(names), self.left[0])
            names += self._from_first(part, part)
        return names

    def _from_first(self, named: int, taken: int) -> list[str]:
        names = [self.names[0]] * named
        self.left[0] -= taken
        if not self.left[0]:
            self.names.popleft()
            self.left.popleft()
        return names


def name_bars(problem: Problem, reduced: Reduced, layout: Layout) -> tuple[Bar, ...]:
    """Give each bar its stock and each cut its piece, long pieces first on the bar, the fullest bars first."""
    pieces = [_Line(entries) for entries in reduced.pieces]
    stock = [_Line(kind.members) for kind in reduced.kinds]
    order = sorted(layout, key=lambda p: (reduced.drop(p[0], reduced.filled(p[1])), p))
    bars: dict[tuple[str, tuple[str, ...]], int] = {}
    for kind, counts in order:
        left = layout[kind, counts]
        while left:
            times = min(left, stock[kind].alike(1), *(pieces[item].alike(size) for item, size in counts))
            name = stock[kind].take(1, times)[0]
            cuts = tuple(cut for item, size in counts for cut in pieces[item].take(size, times))
            bars[name, cuts] = bars.get((name, cuts), 0) + times
            left -= times
    return tuple(_bar(problem, name, cuts, times) for (name, cuts), times in bars.items())


def _bar(problem: Problem, name: str, cuts: tuple[str, ...], times: int) -> Bar:
    lengths = [problem.demand_by_id[cut].length for cut in cuts]
    return Bar(name, cuts, times, problem.drop_after(problem.stock_by_id[name], lengths))
