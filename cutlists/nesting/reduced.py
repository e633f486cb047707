"""The problem in its smallest whole numbers: one width per length, one kind per usable bar length and price.

Width = length + kerf and capacity = bar - trim + kerf make a kerf between all neighbours exact: n pieces need n - 1
cuts, and the last cut may run out of the end. Dividing by the greatest common divisor of the widths changes nothing,
as every filled length is a multiple of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd

from cutlists.nesting.problem import NotEnoughStock, Problem

Counts = tuple[tuple[int, int], ...]
"""(width number, how many), by width number."""
Pattern = tuple[int, Counts]
"""(kind number, what is cut from the bar)."""
Layout = dict[Pattern, int]
"""How many bars are cut to each pattern."""

SHORTFALL = "(stock that is not there)"


@dataclass(frozen=True, slots=True)
class Kind:
    """Bars that are alike for the plan: same usable length, same price."""

    capacity: int
    room: int
    cost: int
    count: int
    """As many as could ever be opened; `limited` says if the stock room sets this."""
    limited: bool
    members: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Reduced:
    """Widths longest first, how often each is wanted, and the kinds of bar; all divided by `unit`."""

    unit: int
    kerf: int
    keep_from: int
    drop_price: int
    widths: tuple[int, ...]
    demand: tuple[int, ...]
    pieces: tuple[tuple[tuple[str, int], ...], ...]
    """The demands behind each width, in the order they were asked for."""
    kinds: tuple[Kind, ...]

    @cached_property
    def total(self) -> int:
        """All widths together."""
        return sum(width * count for width, count in zip(self.widths, self.demand, strict=True))

    @cached_property
    def number_of_pieces(self) -> int:
        """How many pieces are wanted."""
        return sum(self.demand)

    @cached_property
    def shortfall(self) -> int | None:
        """The kind that stands for missing stock, if stock can run out."""
        names = [number for number, kind in enumerate(self.kinds) if kind.members[0][0] == SHORTFALL]
        return names[0] if names else None

    @cached_property
    def longest(self) -> int:
        """Capacity of the longest kind."""
        return max(kind.capacity for kind in self.kinds)

    def on_grid(self, most: int) -> Reduced:
        """Widths rounded up and bars rounded down to at most so many steps a bar: patterns that fit there fit here."""
        step = -(-self.longest // most)
        if step == 1:
            return self
        kinds = (replace(kind, capacity=kind.capacity // step) for kind in self.kinds)
        widths = tuple(-(-width // step) for width in self.widths)
        return replace(self, unit=self.unit * step, widths=widths, kinds=tuple(kinds))

    def rest(self, demand: Sequence[int], counts: Sequence[int]) -> Reduced:
        """The same problem with this much of each width still wanted and these many bars of each kind left."""
        kinds = (replace(kind, count=count) for kind, count in zip(self.kinds, counts, strict=True))
        return replace(self, demand=tuple(demand), kinds=tuple(kinds))

    def filled(self, counts: Counts) -> int:
        """How much of a bar a pattern fills."""
        return sum(self.widths[item] * count for item, count in counts)

    def drop(self, kind: int, filled: int) -> int:
        """What is left of a bar, in the caller's unit."""
        return max(0, self.kinds[kind].room - self.kerf - self.unit * filled)

    def waste(self, kind: int, filled: int) -> int:
        """What a bar counts on level 2."""
        drop = self.drop(kind, filled)
        return self.drop_price if drop and drop >= self.keep_from else drop

    def levels(self, layout: Layout) -> tuple[int, int, int, int]:
        """A layout on the four levels, best when smallest."""
        new_stock = waste = longest = 0
        for (kind, counts), times in layout.items():
            filled = self.filled(counts)
            drop = self.drop(kind, filled)
            new_stock += times * self.kinds[kind].cost
            waste += times * self.waste(kind, filled)
            longest = max(longest, drop if drop >= self.keep_from else 0)
        return new_stock, waste, -longest, len({(self.kinds[kind].room, counts) for kind, counts in layout})


def reduce(problem: Problem) -> Reduced:
    """Bring a problem to its smallest integers; raises NotEnoughStock for a piece that no bar can hold."""
    by_length: dict[int, list[tuple[str, int]]] = {}
    for demand in problem.demand:
        if demand.count:
            by_length.setdefault(demand.length, []).append((demand.id, demand.count))
    lengths = sorted(by_length, reverse=True)
    widths = [length + problem.kerf for length in lengths]
    unit = gcd(*widths) if widths else 1
    demand_counts = tuple(sum(count for _, count in by_length[length]) for length in lengths)
    _refuse_too_long(problem, by_length)
    return Reduced(
        unit=unit,
        kerf=problem.kerf,
        keep_from=problem.keep_from,
        drop_price=problem.price_of_a_drop,
        widths=tuple(width // unit for width in widths),
        demand=demand_counts,
        pieces=tuple(tuple(by_length[length]) for length in lengths),
        kinds=_kinds(problem, unit, widths, sum(demand_counts)),
    )


def _kinds(problem: Problem, unit: int, widths: list[int], pieces: int) -> tuple[Kind, ...]:
    alike: dict[tuple[int, int], list[tuple[str, int | None]]] = {}
    for stock in problem.stock:
        room = problem.usable(stock) + problem.kerf
        if stock.count != 0 and widths and room >= widths[-1]:
            alike.setdefault((stock.price, room), []).append((stock.id, stock.count))
    kinds = [_kind(room, cost, unit, members, pieces) for (cost, room), members in sorted(alike.items())]
    longest = widths[0] if widths else 0
    if kinds and all(kind.limited or kind.room < longest for kind in kinds):
        everything = sum(kind.cost * kind.count for kind in kinds)
        room = max(kind.room for kind in kinds)
        kinds.append(_kind(room, everything + 1, unit, [(SHORTFALL, None)], pieces))
    return tuple(kinds)


def _kind(room: int, cost: int, unit: int, members: list[tuple[str, int | None]], pieces: int) -> Kind:
    counts = [pieces if count is None else min(count, pieces) for _, count in members]
    limited = not any(count is None or count >= pieces for _, count in members)
    named = tuple((name, count) for (name, _), count in zip(members, counts, strict=True))
    return Kind(room // unit, room, cost, min(pieces, sum(counts)), limited, named)


def _refuse_too_long(problem: Problem, by_length: dict[int, list[tuple[str, int]]]) -> None:
    if not by_length:
        return
    there = [stock for stock in problem.stock if stock.count != 0]
    names = tuple(name for pieces in by_length.values() for name, _ in pieces)
    if not there:
        raise NotEnoughStock("there is no stock to cut from: add bars to the stock", names)
    best = max(there, key=problem.usable)
    longest = problem.usable(best)
    too_long = [(length, name) for length, pieces in by_length.items() for name, _ in pieces if length > longest]
    if too_long:
        named = ", ".join(f"{name} ({length})" for length, name in too_long[:8])
        more = f" and {len(too_long) - 8} more" if len(too_long) > 8 else ""
        raise NotEnoughStock(
            f"longer than any stock after its trim (longest: {best.id}, {longest}): {named}{more}; "
            "add longer stock or split the piece",
            tuple(name for _, name in too_long),
        )
