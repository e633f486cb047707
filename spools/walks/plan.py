"""Order the stops of a main so that the walking is least, shift by shift, from shaft to shaft.

A crew goes down one shaft, walks along the main to its stops, and comes up at a shaft. What it walks depends only on
the two shafts and on the stretch that its stops span: what lies between the shafts is walked once, the rest twice.

Why the plan is the best there is. Take any two shifts whose stretches overlap. Sort their four shaft ends e1 to e4 and
their stops; give e1, e2 and the first stops to one crew, e3, e4 and the rest to the other, as many to each as it may
take and as lie beyond e2 and before e3. No part of the main is then walked more often than before: below e1 and above
e4 a second crew is needed only where one could not take all, and then both walked there before; between e2 and e3 it
was walked twice at least, or the stretches did not overlap; between e1 and e2 (e3 and e4) the odd walk stays, and a
second crew comes only as far as the stops that one crew could not take. So some best plan has its shifts in a row
along the main, and the best of those is found by trying every place to cut the row (dynamic programming). The fewest
shifts come first, then the least walking. tests/spools/walks holds it against every possible plan of small cases.
"""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf


class WalkError(ValueError):
    """A walk that can't be planned; the message says what to set."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One place on the main: its number, its mark and its station in mm."""

    id: int
    mark: str
    station_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """One crew's walk: down at ``in_mm``, the stops in order, up at ``out_mm``."""

    in_mm: float
    out_mm: float
    walk_mm: float
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkPlan:
    """The shifts in order along the main; ``mark_order_mm`` is the same work walked in the order of the marks."""

    shifts: tuple[Shift, ...]
    walk_mm: float
    mark_order_mm: float

    @property
    def saved_mm(self) -> float:
        """What the plan saves beside going in the order of the marks."""
        return self.mark_order_mm - self.walk_mm


def plan_walk(
    stops: Sequence[Stop], *, shafts_mm: Sequence[float], in_a_shift: int, same_shaft: bool = False
) -> WalkPlan:
    """Return the plan with the fewest shifts and, among those, the least walking.

    Args: the stops of one main; stations of its shafts in mm; how many stops a crew does in a shift; whether it must
    come up where it went down.
    Raises WalkError where there is no shaft or no room for a stop in a shift.

    >>> line = [Stop(n, str(n), 100.0 * n) for n in (1, 2, 8, 9)]
    >>> plan = plan_walk(line, shafts_mm=[0.0, 1000.0], in_a_shift=2)
    >>> [[stop.id for stop in shift.stops] for shift in plan.shifts], plan.walk_mm
    ([[1, 2], [9, 8]], 800.0)
    """
    if not shafts_mm:
        raise WalkError("Say where a crew can go down: at least one shaft.")
    if in_a_shift < 1:
        raise WalkError("Say how many a crew does in a shift: 1 at least.")
    shafts = sorted(set(shafts_mm))
    row = sorted(stops, key=lambda stop: (stop.station_mm, natural(stop.mark), stop.id))
    cuts = _best_cuts(row, shafts, in_a_shift, same_shaft=same_shaft)
    shifts = tuple(_shift(row[start:end], shafts, same_shaft=same_shaft) for start, end in cuts)
    return WalkPlan(
        shifts=shifts,
        walk_mm=sum(shift.walk_mm for shift in shifts),
        mark_order_mm=mark_order_mm(stops, shafts_mm=shafts, in_a_shift=in_a_shift, same_shaft=same_shaft),
    )


def mark_order_mm(
    stops: Sequence[Stop], *, shafts_mm: Sequence[float], in_a_shift: int, same_shaft: bool = False
) -> float:
    """Return what is walked when the marks are simply taken in order, each shift from its nearest shafts."""
    row = sorted(stops, key=lambda stop: (natural(stop.mark), stop.id))
    total = 0.0
    for start in range(0, len(row), in_a_shift):
        stations = [stop.station_mm for stop in row[start : start + in_a_shift]]
        total += sum(abs(here - there) for here, there in zip(stations[1:], stations, strict=False))
        first, last = stations[0], stations[-1]
        if same_shaft:
            total += min(abs(first - shaft) + abs(last - shaft) for shaft in shafts_mm)
        else:
            total += min(abs(first - shaft) for shaft in shafts_mm) + min(abs(last - shaft) for shaft in shafts_mm)
    return total


def natural(mark: str) -> tuple[tuple[int, int | str], ...]:
    """Return a key by which 9 comes before 10, and 10 before 10A.

    >>> sorted(["10", "9", "10A", "B2"], key=natural)
    ['9', '10', '10A', 'B2']
    """
    parts = re.findall(r"[0-9]+|[^0-9]+", mark)
    return tuple((0, int(part)) if part.isascii() and part.isdigit() else (1, part) for part in parts)


def least_walk_mm(low_mm: float, high_mm: float, shafts: Sequence[float], *, same_shaft: bool) -> float:
    """Return the least that a crew walks to reach all from ``low_mm`` to ``high_mm``."""
    return min(walk for walk, _, _ in _ways(low_mm, high_mm, shafts, same_shaft=same_shaft))


def _ways(
    low_mm: float, high_mm: float, shafts: Sequence[float], *, same_shaft: bool
) -> list[tuple[float, float, float]]:
    """Return walk, shaft in and shaft out for the shafts worth trying: the nearest on either side of both ends."""
    worth = sorted({*_nearest(low_mm, shafts), *_nearest(high_mm, shafts)})
    return [
        (_walk(low_mm, high_mm, one, other), one, other)
        for place, one in enumerate(worth)
        for other in (worth[place : place + 1] if same_shaft else worth[place:])
    ]


def _nearest(station_mm: float, shafts: Sequence[float]) -> tuple[float, ...]:
    below, above = bisect_right(shafts, station_mm), bisect_left(shafts, station_mm)
    return (*shafts[max(below - 1, 0) : below], *shafts[above : above + 1])


def _walk(low_mm: float, high_mm: float, one_mm: float, other_mm: float) -> float:
    """Return the walk from one shaft to another one above it: between them once, outside them twice."""
    return other_mm - one_mm + 2.0 * max(one_mm - low_mm, 0.0) + 2.0 * max(high_mm - other_mm, 0.0)


def _best_cuts(row: list[Stop], shafts: Sequence[float], in_a_shift: int, *, same_shaft: bool) -> list[tuple[int, int]]:
    """Return where to cut the row into the fewest shifts so that the walking is least."""
    count, shifts = len(row), ceil(len(row) / in_a_shift)
    best: list[float] = [0.0, *[inf] * count]
    came_from: list[list[int]] = []
    walks: dict[tuple[int, int], float] = {}
    for _ in range(shifts):
        after, came = [inf] * (count + 1), [0] * (count + 1)
        for end in range(1, count + 1):
            for start in range(max(end - in_a_shift, 0), end):
                if best[start] == inf:
                    continue
                if (start, end) not in walks:
                    low_mm, high_mm = row[start].station_mm, row[end - 1].station_mm
                    walks[start, end] = least_walk_mm(low_mm, high_mm, shafts, same_shaft=same_shaft)
                walked = best[start] + walks[start, end]
                if walked < after[end] - 1e-9:
                    after[end], came[end] = walked, start
        best = after
        came_from.append(came)
    cuts, end = [], count
    for came in reversed(came_from):
        cuts.append((came[end], end))
        end = came[end]
    return cuts[::-1]


def _shift(stops: list[Stop], shafts: Sequence[float], *, same_shaft: bool) -> Shift:
    """Return one shift: what lies below the shaft first, on the way out, then upward to the last, and to a shaft."""
    low_mm, high_mm = stops[0].station_mm, stops[-1].station_mm
    walk_mm, in_mm, out_mm = min(_ways(low_mm, high_mm, shafts, same_shaft=same_shaft))
    below = [stop for stop in stops if stop.station_mm < in_mm]
    ahead = [stop for stop in stops if stop.station_mm >= in_mm]
    return Shift(in_mm=in_mm, out_mm=out_mm, walk_mm=walk_mm, stops=(*reversed(below), *ahead))
