"""Vent and drain holes for the zinc bath: how many, how big, and what is shut in.

Source of the rules: ASTM A385 practice as shown on public galvanizers' pages; the pad table is from memory.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, sqrt

from geometry.findings import Figure, Finding, caution, error
from geometry.lengths import MM_PER_INCH, format_length
from geometry.tables import nps_inches

LEAST_VENT_MM = 0.375 * MM_PER_INCH
LEAST_END_HOLE_MM = 0.5 * MM_PER_INCH
VENT_OF_ID = 0.25
PAIR_OF_AREA = 0.30
PAIR_FROM_NPS = 3.0

_DRILL_STEP_MM = MM_PER_INCH / 16
_SLACK = 1e-9
_SQUARE_INCH_MM2 = MM_PER_INCH**2


@dataclass(frozen=True, slots=True)
class Holes:
    """Holes to drill: how many, and the diameter of each in mm (a drill size in sixteenths)."""

    count: int
    diameter_mm: float

    @property
    def words(self) -> str:
        """The holes as said in the shop."""
        size = format_length(self.diameter_mm)
        return f"one {size} hole" if self.count == 1 else f"{self.count} holes of {size}"


@dataclass(frozen=True, slots=True)
class ClosedEnd:
    """An end that is shut when the spool is dipped: by a cap, blind, plug or plate, with the holes drilled there."""

    name: str
    closed_by: str
    holes: int = 0
    hole_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """One inside space of a spool: ends open over the full bore, and ends that are shut."""

    name: str
    nps: str
    id_mm: float
    open_ends: int
    closed_ends: tuple[ClosedEnd, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a space that has fewer than two ends."""
        if self.open_ends < 0 or self.open_ends + len(self.closed_ends) < 2:
            raise ValueError(f"{self.name} has fewer than two ends: say of every end whether it is open or closed.")


@dataclass(frozen=True, slots=True)
class Pad:
    """A plate welded all around onto the pipe, with the holes drilled through it."""

    name: str
    area_mm2: float
    holes: int = 0
    hole_mm: float = 0.0


def external_vent_mm(id_mm: float) -> float:
    """Return the vent beside a branch whose inside isn't fully open: 25 percent of the ID, 3/8 in at least, in mm.

    >>> external_vent_mm(4.026 * 25.4) / 25.4
    1.0625
    """
    return _drill_mm(max(VENT_OF_ID * id_mm, LEAST_VENT_MM))


def vent_pair_mm(id_mm: float) -> float:
    """Return the diameter in mm of each of two holes that together open 30 percent of the inside area.

    >>> vent_pair_mm(4.026 * 25.4) / 25.4
    1.5625
    """
    return _drill_mm(id_mm * sqrt(PAIR_OF_AREA / 2.0))


def closed_end_holes(space: Space) -> Holes:
    """Return the holes that a closed end needs: two of 30 percent from NPS 3 up, below it one, 1/2 in at least."""
    if nps_inches(space.nps) >= PAIR_FROM_NPS:
        return Holes(2, vent_pair_mm(space.id_mm))
    return Holes(1, max(external_vent_mm(space.id_mm), LEAST_END_HOLE_MM))


def pad_holes(area_mm2: float) -> Holes:
    """Return the holes through a pad of that area; none under 16 square inches. From memory of ASTM A385.

    >>> pad_holes(100 * 645.16)
    Holes(count=2, diameter_mm=12.7)
    """
    area_in2 = area_mm2 / _SQUARE_INCH_MM2
    if area_in2 < 16:
        return Holes(0, 0.0)
    if area_in2 < 64:
        return Holes(1, LEAST_VENT_MM)
    if area_in2 < 400:
        return Holes(2, LEAST_END_HOLE_MM)
    return Holes(4 * ceil(area_in2 / 400 - _SLACK), 0.75 * MM_PER_INCH)


def vent_findings(spaces: Sequence[Space], *, pads: Sequence[Pad] = ()) -> tuple[Finding, ...]:
    """Tell what is shut in: every space must be open to a vent and a drain, every larger pad vented.

    >>> both_shut = tuple(ClosedEnd(name, "blind flange") for name in ("end A", "end B"))
    >>> found = vent_findings([Space(name="the spool", nps="4", id_mm=102.26, open_ends=0, closed_ends=both_shut)])
    >>> found[0].text
    'STOP. Sealed cavity can burst in the zinc bath. Vent it. The spool: drill 2 holes of 1-9/16" at each closed end.'
    """
    found: list[Finding] = []
    for space in spaces:
        found += _space_findings(space)
    for pad in pads:
        found += _pad_findings(pad)
    return tuple(found)


def _space_findings(space: Space) -> list[Finding]:
    needed = closed_end_holes(space)
    if not space.closed_ends:
        text = "No extra vent needed; keep both ends open. Tag high and low point."
        return [caution("keep_ends_open", text)]
    if space.open_ends == 0 and not any(end.holes for end in space.closed_ends):
        where = f"{space.name[:1].upper()}{space.name[1:]}: drill {needed.words} at each closed end."
        return [_sealed(where)]
    return [finding for end in space.closed_ends for finding in _end_findings(end, needed)]


def _end_findings(end: ClosedEnd, needed: Holes) -> list[Finding]:
    figures = (Figure("hole", needed.diameter_mm, "mm"), Figure("holes", float(needed.count)))
    place = "beside the weld, 180 degrees apart" if needed.count > 1 else "within 1/2 in of the weld"
    if not end.holes:
        text = f"{end.name} ({end.closed_by}) traps air or zinc: drill {needed.words} {place}."
        return [error("end_not_vented", text, *figures)]
    drilled_mm2, needed_mm2 = end.holes * end.hole_mm**2, needed.count * needed.diameter_mm**2
    if end.hole_mm < LEAST_VENT_MM - _SLACK or drilled_mm2 < needed_mm2 * (1 - _SLACK):
        text = f"Holes at {end.name} ({end.closed_by}) are too small: drill {needed.words} {place}."
        return [error("vent_too_small", text, *figures)]
    return []


def _pad_findings(pad: Pad) -> list[Finding]:
    needed = pad_holes(pad.area_mm2)
    if needed.count == 0:
        text = f"{pad.name} is a small lap: the galvanizer decides whether it must be vented, ask."
        return [] if pad.holes else [caution("pad_small", text)]
    if not pad.holes:
        return [_sealed(f"{pad.name}: drill {needed.words} through it.")]
    if pad.holes * pad.hole_mm**2 < needed.count * needed.diameter_mm**2 * (1 - _SLACK):
        text = f"Holes through {pad.name} are too small: drill {needed.words}."
        return [error("vent_too_small", text, Figure("hole", needed.diameter_mm, "mm"))]
    return []


def _sealed(where: str) -> Finding:
    return error("sealed_cavity", f"STOP. Sealed cavity can burst in the zinc bath. Vent it. {where}")


def _drill_mm(least_mm: float) -> float:
    """Round up to the next sixteenth."""
    return ceil(least_mm / _DRILL_STEP_MM - _SLACK) * _DRILL_STEP_MM
