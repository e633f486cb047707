"""Every pattern that a plan with a given total of new stock can still hold, found by exact prices.

If the pieces are worth nearly as much as the bars of such a plan cost, then no bar of it can be filled much worse than
the best: a pattern whose worth lies further below its bar's cost than the whole gap can't occur (fixing by reduced
cost). What is left is often a few thousand patterns, and a plan either exists among them or not at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

import numpy as np

from cutlists.nesting.bounds import Prices
from cutlists.nesting.pricing import Whole
from cutlists.nesting.reduced import Pattern, Reduced
from cutlists.nesting.watch import Watch

STATES_LIMIT = 150_000
"""Half-made patterns kept at once; with more there is no point in going on."""
TABLE_CELLS = 12_000_000


class TooMany(Exception):
    """There are more patterns than an exact step could use."""


def thresholds(reduced: Reduced, prices: Prices, total: int) -> list[int]:
    """The least worth of a pattern of each kind in any plan of this total of new stock."""
    kinds = list(zip(reduced.kinds, prices.fills, strict=True))
    ratios = [Fraction(fill, kind.cost) for kind, fill in kinds if not kind.limited and kind.cost]
    grain = max(ratios, default=Fraction(prices.grain))
    over = [max(Fraction(0), fill - grain * kind.cost) for kind, fill in kinds]
    gap = grain * total - sum(price * count for price, count in zip(prices.worth, reduced.demand, strict=True))
    gap += sum(kind.count * more for (kind, _), more in zip(kinds, over, strict=True))
    return [ceil(grain * kind.cost + more - gap) for (kind, _), more in zip(kinds, over, strict=True)]


def critical_patterns(reduced: Reduced, prices: Prices, total: int, watch: Watch, most: int) -> list[Pattern]:
    """All patterns that a plan of this total can hold; raises TooMany beyond `most`."""
    longest = max(kind.capacity for kind in reduced.kinds)
    step = -(-longest * len(reduced.widths) // TABLE_CELLS)
    rest = _rest_tables(reduced, prices.worth, longest, step)
    found: list[Pattern] = []
    for number, least in enumerate(thresholds(reduced, prices, total)):
        watch.check()
        found += _of_kind(reduced, number, prices.worth, least, (rest, step), STATES_LIMIT)
        if len(found) > most:
            raise TooMany
    return found


def all_patterns(reduced: Reduced, most: int) -> list[Pattern]:
    """Every way to cut a bar, the emptiest included; raises TooMany beyond `most`."""
    nothing = [0] * len(reduced.widths)
    rest = [np.zeros(1, dtype=np.int64)] * (len(reduced.widths) + 1)
    longest = max(kind.capacity for kind in reduced.kinds)
    found: list[Pattern] = []
    for number in range(len(reduced.kinds)):
        found += _of_kind(reduced, number, nothing, 0, (rest, longest + 1), most)
        if len(found) > most:
            raise TooMany
    return found


def _rest_tables(reduced: Reduced, worth: Sequence[int], longest: int, step: int) -> list[Whole]:
    """For each width number: the most that it and all shorter ones are worth within each length (in steps)."""
    size = longest // step + 1
    tables: list[Whole] = [np.zeros(size, dtype=np.int64)]
    for item in range(len(reduced.widths) - 1, -1, -1):
        width = reduced.widths[item] // step
        table = tables[-1].copy()
        left, part = reduced.demand[item], 1
        while left > 0 and width * part < size:
            part = min(part, left)
            more = table[: size - width * part] + worth[item] * part
            np.maximum(table[width * part :], more, out=table[width * part :])
            left -= part
            part *= 2
        tables.append(table)
    return tables[::-1]


def _of_kind(
    reduced: Reduced, kind: int, worth: Sequence[int], least: int, rest: tuple[list[Whole], int], most: int
) -> list[Pattern]:
    """Patterns of one kind worth at least `least`: all half-made patterns together, one width after the other."""
    tables, step = rest
    left = np.array([reduced.kinds[kind].capacity], dtype=np.int64)
    value = np.zeros(1, dtype=np.int64)
    history: list[tuple[Whole, Whole]] = []
    for item, (width, demand) in enumerate(zip(reduced.widths, reduced.demand, strict=True)):
        parents, counts, made = [], [], 0
        fits = np.minimum(left // width, demand)
        for count in range(int(fits.max(initial=0)) + 1):
            places = np.flatnonzero(fits >= count)
            ahead = value[places] + count * worth[item] + tables[item + 1][(left[places] - count * width) // step]
            places = places[ahead >= least]
            made += len(places)
            if made > most:
                raise TooMany
            parents.append(places)
            counts.append(np.full(len(places), count, dtype=np.int64))
        parent, cut = np.concatenate(parents), np.concatenate(counts)
        left, value = left[parent] - cut * width, value[parent] + cut * worth[item]
        history.append((parent, cut))
    return _read_back(kind, history, len(left))


def _read_back(kind: int, history: list[tuple[Whole, Whole]], number: int) -> list[Pattern]:
    patterns: list[list[tuple[int, int]]] = [[] for _ in range(number)]
    place = np.arange(number)
    for item in range(len(history) - 1, -1, -1):
        parent, cut = history[item]
        taken = cut[place]
        for row in np.flatnonzero(taken).tolist():
            patterns[row].append((item, int(taken[row])))
        place = parent[place]
    return [(kind, tuple(reversed(pattern))) for pattern in patterns if pattern]
