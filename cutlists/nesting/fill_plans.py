"""Whole plans by exact fills: choose bars that could hold everything, then fill one after the other to its end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutlists.nesting.covering import Covering
from cutlists.nesting.exact_fill import ExactFill
from cutlists.nesting.reduced import Layout, Reduced
from cutlists.nesting.watch import Watch

BITS_LIMIT = 400_000
"""Longest bar, in reduced units, for which sums are kept bit by bit; longer ones are planned on a coarser grid."""
NEIGHBORS = 3
"""Totals of new stock next to the bound that are all tried."""

Bars = list[tuple[int, int]]
"""(kind, how many), in the order of opening."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Bars filled so far; complete when no piece is left over."""

    layout: Layout
    complete: bool
    bars: Bars
    """The bars that were to be filled."""


def fill_plans(reduced: Reduced, covering: Covering, bound: int, best: int, watch: Watch) -> Iterator[Filled]:
    """Plans at rising totals of new stock below the best known, until one total works; what failed comes along."""
    if covering.table is None:
        yield from plans_by_rate(reduced, watch)
        return
    for total in spread(covering.totals(bound, best)):
        found = False
        for filled in plans_for(reduced, covering, total, watch):
            found = found or filled.complete
            yield filled
        if found:
            return


def spread(totals: Iterator[int]) -> Iterator[int]:
    """The first totals, then ever fewer of those that follow.

    >>> list(spread(iter(range(30))))
    [0, 1, 2, 3, 5, 8, 13, 20]
    """
    following = 0
    for number, total in enumerate(totals):
        if number == following:
            yield total
            following += 1 + number // 2 if number >= NEIGHBORS else 1


def plans_for(reduced: Reduced, covering: Covering, total: int, watch: Watch) -> Iterator[Filled]:
    """Plans at this total: with bars just long enough, then with the longest; short bars first, then long ones."""
    longest = covering.bars(total)
    free = [(number, kind.count) for number, kind in enumerate(reduced.kinds) if not kind.cost]
    spare = capacity_of(reduced, [*free, *longest]) - reduced.total
    lean = leaner(reduced, [*free, *longest], spare)
    choices = [lean] if sorted(lean) == sorted([*free, *longest]) else [lean, [*free, *longest]]
    for chosen in choices:
        by_length = sorted(chosen, key=lambda bar: (reduced.kinds[bar[0]].cost > 0, reduced.kinds[bar[0]].capacity))
        drops = [bar for bar in by_length if not reduced.kinds[bar[0]].cost]
        new = by_length[len(drops) :]
        for order in dict.fromkeys(map(tuple, (drops[::-1] + new, drops[::-1] + new[::-1], drops + new))):
            filled = fill_in_order(reduced, list(order), watch)
            yield filled
            if filled.complete and reduced.levels(filled.layout)[1] <= capacity_of(reduced, lean) - reduced.total:
                return


def plans_by_rate(reduced: Reduced, watch: Watch) -> Iterator[Filled]:
    """Plans where totals of new stock are too many to look at: drops first, then bars by price for their length."""
    kinds = reduced.kinds
    numbers = [number for number in range(len(kinds)) if number != reduced.shortfall]
    last = [] if reduced.shortfall is None else [reduced.shortfall]
    for longest_first in (1, -1):
        numbers.sort(key=lambda n: (kinds[n].cost > 0, kinds[n].cost / kinds[n].room, -longest_first * kinds[n].room))
        filled = fill_in_order(reduced, [(n, kinds[n].count) for n in [*numbers, *last]], watch)
        yield replace(filled, layout=downsized(reduced, filled.layout))


def downsized(reduced: Reduced, layout: Layout) -> Layout:
    """Each bar replaced by the cheapest one still there that holds its cuts, the emptiest bars first."""
    kinds = reduced.kinds
    spare = [kind.count for kind in kinds]
    for (kind, _), times in layout.items():
        spare[kind] -= times
    smaller: Layout = {}
    by_price = sorted(range(len(kinds)), key=lambda n: (kinds[n].cost, kinds[n].room))
    for kind, counts in sorted(layout, key=lambda p: (reduced.filled(p[1]), p)):
        filled, left = reduced.filled(counts), layout[kind, counts]
        for other in by_price:
            if kinds[other].cost >= kinds[kind].cost:
                break
            part = min(left, spare[other]) if kinds[other].capacity >= filled else 0
            if part:
                smaller[other, counts] = smaller.get((other, counts), 0) + part
                spare[other] -= part
                spare[kind] += part
                left -= part
        if left:
            smaller[kind, counts] = smaller.get((kind, counts), 0) + left
    return smaller


def capacity_of(reduced: Reduced, bars: Bars) -> int:
    """What these bars hold together."""
    return sum(reduced.kinds[kind].capacity * count for kind, count in bars)


def leaner(reduced: Reduced, bars: Bars, spare: int) -> Bars:
    """The same total of new stock with as little to spare as can be: shorter bars of the same price, or fewer drops."""
    kinds = reduced.kinds
    used = dict(bars)
    alike: dict[int, list[int]] = {}
    for number, kind in enumerate(kinds):
        alike.setdefault(kind.cost, []).append(number)
    while spare > 0:
        swaps = [
            (kinds[one].capacity - kinds[other].capacity, one, other)
            for one, count in used.items()
            if count and kinds[one].cost
            for other in alike[kinds[one].cost]
            if kinds[one].capacity > kinds[other].capacity and used.get(other, 0) < kinds[other].count
        ]
        swaps += [(kinds[one].capacity, one, -1) for one, count in used.items() if count and not kinds[one].cost]
        fitting = [swap for swap in swaps if swap[0] <= spare]
        if not fitting:
            break
        gain, one, other = max(fitting)
        used[one] -= 1
        if other >= 0:
            used[other] = used.get(other, 0) + 1
        spare -= gain
    return [(kind, count) for kind, count in sorted(used.items()) if count]


def fill_in_order(reduced: Reduced, bars: Bars, watch: Watch) -> Filled:
    """Fill these bars one after the other; gives up once so much is lost that the rest can't fit any more."""
    kinds = reduced.kinds
    rest = ExactFill(reduced.widths, reduced.demand, reduced.longest)
    layout: Layout = {}
    losable = capacity_of(reduced, bars) - reduced.total
    for kind, count in bars:
        left = count
        while left and not rest.done:
            watch.check()
            pattern = rest.fill(kinds[kind].capacity)
            if not pattern:
                losable -= left * kinds[kind].capacity
                break
            times = min(left, rest.most_times(pattern))
            losable -= times * (kinds[kind].capacity - reduced.filled(pattern))
            if losable < 0:
                return Filled(layout, complete=False, bars=bars)
            rest.take(pattern, times)
            key = (kind, pattern)
            layout[key] = layout.get(key, 0) + times
            left -= times
    return Filled(layout, rest.done, bars)
