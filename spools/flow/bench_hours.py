"""How long a bench needs for one spool: learned from this shop's own welds by size and make-up, else a stated guess."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from statistics import median
from typing import TypeVar

from geometry.tables.odd_sizes import say_size

Key = TypeVar("Key", bound=Hashable)

LEAST = 5  # fewer than this teach nothing
# The guess, all from memory of the trade, for NPS 6: half an hour a weld, a tenth an end, and more for thicker pipe.
WELD_H = 0.5
END_H = 0.1
OF_NPS = 6.0


@dataclass(frozen=True, slots=True)
class Past:
    """One spool that a bench finished: its size, its make-up, how long the bench had it."""

    nps: str
    make_up: str
    hours: float


@dataclass(frozen=True, slots=True)
class Hours:
    """An estimate for one spool, and what it rests on, in words."""

    hours: float
    basis: str


class BenchHours:
    """What a shop's past says about the hours of a size and make-up.

    >>> shop = BenchHours([Past("6", "trimmed_elbow", hours) for hours in (0.5, 0.6, 0.7, 0.8, 2.0)])
    >>> shop.to_weld("6", "trimmed_elbow", welds=2)
    Hours(hours=0.7, basis='median of 5 here')
    >>> shop.to_weld("8", "trimmed_elbow", welds=2).basis
    'assumed: no five of NPS 8 yet'
    """

    def __init__(self, past: Iterable[Past]) -> None:
        by_make_up: dict[tuple[str, str], list[float]] = defaultdict(list)
        by_size: dict[str, list[float]] = defaultdict(list)
        for one in past:
            by_make_up[one.nps, one.make_up].append(one.hours)
            by_size[one.nps].append(one.hours)
        self._by_make_up = _medians(by_make_up)
        self._by_size = _medians(by_size)

    def to_weld(self, nps: str, make_up: str, *, welds: int) -> Hours:
        """Return the hours from taking a spool in hand until it is welded."""
        known = self._by_make_up.get((nps, make_up))
        if known:
            return Hours(known[0], f"median of {known[1]} here")
        known = self._by_size.get(nps)
        if known:
            return Hours(known[0], f"median of {known[1]} of {say_size(nps)} here, other make-ups with it")
        return Hours(welds * WELD_H * _thicker(nps), f"assumed: no five of {say_size(nps)} yet")

    def to_prepare(self, nps: str, *, ends: int) -> float:
        """Return the assumed hours for grooving or beveling some ends."""
        return ends * END_H * _thicker(nps)


def _medians(rows: Mapping[Key, list[float]]) -> dict[Key, tuple[float, int]]:
    return {key: (round(median(hours), 2), len(hours)) for key, hours in rows.items() if len(hours) >= LEAST}


def _thicker(nps: str) -> float:
    """Return how much longer a size takes than NPS 6, by its diameter."""
    try:
        whole, _, part = nps.replace("-", " ").partition(" ")
        over, _, under = part.partition("/")
        inches = float(whole) + (float(over) / float(under) if under else 0.0)
    except ValueError:
        return 1.0
    return max(inches, 1.0) / OF_NPS
