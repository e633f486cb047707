"""The plans a saw hand makes at once: first-fit and best-fit decreasing, and plain ticket order.

First-fit and best-fit decreasing: D. S. Johnson, Near-optimal bin packing algorithms, MIT 1973. With several kinds
of bar the only choice is which kind to open next; each rule below is a fixed order of preference.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from cutlists.nesting.reduced import Layout, Reduced

Run = tuple[int, int]
"""(width number, how many of it follow each other)."""


class OpenBars:
    """Bars opened so far, what is left of each and what was cut from it.

    A kind that stands more than once in the preference is opened member by member, as its stock was listed.
    """

    def __init__(self, reduced: Reduced, preference: Sequence[int]) -> None:
        self.reduced = reduced
        self.preference = preference
        self.left_of_kind = [kind.count for kind in reduced.kinds]
        self.left_of_place = list(_places(reduced, preference))
        self.kinds: list[int] = []
        self.cuts: list[dict[int, int]] = []

    def open_for(self, width: int) -> int:
        """Open the preferred kind that holds this width; its bar number, or -1 where nothing is left."""
        for place, kind in enumerate(self.preference):
            there = self.left_of_kind[kind] and self.left_of_place[place]
            if there and self.reduced.kinds[kind].capacity >= width:
                self.left_of_kind[kind] -= 1
                self.left_of_place[place] -= 1
                self.kinds.append(kind)
                self.cuts.append({})
                return len(self.kinds) - 1
        return -1

    def cut(self, bar: int, item: int, count: int) -> None:
        """Note that so many pieces come from this bar."""
        self.cuts[bar][item] = self.cuts[bar].get(item, 0) + count

    def layout(self) -> Layout:
        """What was cut, bars alike counted together."""
        layout: Layout = {}
        for kind, cuts in zip(self.kinds, self.cuts, strict=True):
            pattern = (kind, tuple(sorted(cuts.items())))
            layout[pattern] = layout.get(pattern, 0) + 1
        return layout


def _places(reduced: Reduced, preference: Sequence[int]) -> Iterator[int]:
    """Yield how many bars each place of a preference opens."""
    often, seen = Counter(preference), Counter[int]()
    for kind in preference:
        members = reduced.kinds[kind].members
        yield members[seen[kind]][1] if often[kind] > 1 else reduced.kinds[kind].count
        seen[kind] += 1


def first_fit(reduced: Reduced, runs: Sequence[Run], preference: Sequence[int]) -> Layout | None:
    """Each piece into the first open bar that holds it; None where the stock doesn't suffice."""
    bars = OpenBars(reduced, preference)
    left = np.zeros(64, dtype=np.int64)
    for item, wanted in runs:
        width, missing = reduced.widths[item], wanted
        fits = left[: len(bars.kinds)] // width
        for bar in np.flatnonzero(fits).tolist():
            count = min(missing, int(fits[bar]))
            bars.cut(bar, item, count)
            left[bar] -= count * width
            missing -= count
            if not missing:
                break
        while missing:
            bar = bars.open_for(width)
            if bar < 0:
                return None
            if bar == len(left):
                left = np.concatenate([left, np.zeros_like(left)])
            capacity = reduced.kinds[bars.kinds[bar]].capacity
            count = min(missing, capacity // width)
            bars.cut(bar, item, count)
            left[bar] = capacity - count * width
            missing -= count
    return bars.layout()


def best_fit(reduced: Reduced, runs: Sequence[Run], preference: Sequence[int]) -> Layout | None:
    """Each piece into the open bar that it fills best; None where the stock doesn't suffice."""
    bars = OpenBars(reduced, preference)
    left: list[tuple[int, int]] = []
    for item, wanted in runs:
        width, missing = reduced.widths[item], wanted
        while missing:
            at = bisect_left(left, (width, -1))
            if at < len(left):
                space, bar = left.pop(at)
            else:
                bar = bars.open_for(width)
                if bar < 0:
                    return None
                space = reduced.kinds[bars.kinds[bar]].capacity
            count = min(missing, space // width)
            bars.cut(bar, item, count)
            missing -= count
            insort(left, (space - count * width, bar))
    return bars.layout()


def decreasing(reduced: Reduced) -> list[Run]:
    """Longest pieces first."""
    return list(enumerate(reduced.demand))


def preferences(reduced: Reduced) -> Iterator[tuple[int, ...]]:
    """Orders in which kinds may be opened: drops first, then new bars by several rules; missing stock always last."""
    numbers = [number for number in range(len(reduced.kinds)) if number != reduced.shortfall]
    last = [] if reduced.shortfall is None else [reduced.shortfall]
    kinds = reduced.kinds
    free = sorted((n for n in numbers if not kinds[n].cost), key=lambda n: kinds[n].room)
    new = sorted((n for n in numbers if kinds[n].cost), key=lambda n: kinds[n].room)
    by_price = sorted(new, key=lambda n: (kinds[n].cost / kinds[n].room, -kinds[n].room))
    orders = [new[::-1], new, by_price]
    if len(new) <= 8:
        orders += [[first, *(n for n in by_price if n != first)] for first in new]
    seen = set()
    for order in orders:
        for drops in (free, free[::-1]):
            preference = (*drops, *order, *last)
            if preference not in seen:
                seen.add(preference)
                yield preference


def as_listed(reduced: Reduced, stock_order: Sequence[str]) -> tuple[int, ...]:
    """Kinds in the order in which the stock was listed: once each, or as listed where equal bars stand apart."""
    kind_of = {name: number for number, kind in enumerate(reduced.kinds) for name, _ in kind.members}
    listed = [kind_of[name] for name in stock_order if name in kind_of]
    together = [kind for kind, _ in groupby(listed)]
    order = together if len(together) == len(set(together)) else listed
    return tuple(order if reduced.shortfall is None else [*order, reduced.shortfall])
