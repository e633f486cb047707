"""Which spool lost its tag: the nearest by size, longer leg and check dimension, as a tape finds them."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

NEAREST = 7
# How well a wet, zinc-coated spool is taped in a yard; common practice, no source. The end of the leg that is not a
# face, the pivot center, is found by eye along the two center lines, so the leg counts for less than the check.
LEG_SIGMA_MM = 6.0
CHECK_SIGMA_MM = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Taped:
    """A spool as a tape knows it: size, the longer of its legs from the pivot center, end to end from the hook."""

    spool: int
    nps: str
    longer_leg_mm: float
    check_mm: float


@dataclass(frozen=True, slots=True)
class Match:
    """How far one spool is from what was taped; ``off`` in standard deviations, 0 being exact."""

    spool: int
    leg_off_mm: float
    check_off_mm: float
    off: float


def nearest(
    candidates: Iterable[Taped], *, nps: str, longer_leg_mm: float, check_mm: float, most: int = NEAREST
) -> tuple[Match, ...]:
    """Return the spools of that size nearest to what was taped, nearest first.

    >>> yard = [Taped(spool=1, nps="6", longer_leg_mm=800, check_mm=1200),
    ...         Taped(spool=2, nps="6", longer_leg_mm=805, check_mm=1250)]
    >>> [match.spool for match in nearest(yard, nps="6", longer_leg_mm=804, check_mm=1202)]
    [1, 2]
    """
    found = []
    for one in candidates:
        if one.nps != nps:
            continue
        leg_off, check_off = longer_leg_mm - one.longer_leg_mm, check_mm - one.check_mm
        found.append(Match(one.spool, leg_off, check_off, hypot(leg_off / LEG_SIGMA_MM, check_off / CHECK_SIGMA_MM)))
    return tuple(sorted(found, key=lambda match: (match.off, match.spool))[:most])
