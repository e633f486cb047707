"""Can it be saved? A spool that came back, and the open tie-ins whose place it could still fill. Mm and degrees."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians

CUT_BACK = frozenset({"beveled", "plain"})  # ends that can be made again on a bent spool; a groover can't spin one
MOST_TRIM_MM = 305.0  # more than a foot off is a new leg: weld a new one rather


@dataclass(frozen=True, slots=True)
class Shape:
    """A spool with one bend, or the place for one: pipe and steel, ends, turn, legs."""

    id: int
    pipe: tuple[str, str, str]
    end_a: str
    end_b: str
    turn_deg: float
    leg_a_mm: float
    leg_b_mm: float


@dataclass(frozen=True, slots=True)
class Save:
    """One place that the spool could fill: what comes off at each end, and how far its turn puts the far face off.

    ``turned_around``: its end B goes to the main. ``trim_a_mm`` is what comes off at the place's own end A.
    """

    id: int
    trim_a_mm: float
    trim_b_mm: float
    off_mm: float
    turned_around: bool

    @property
    def trim_mm(self) -> float:
        """All that comes off."""
        return self.trim_a_mm + self.trim_b_mm


def places_for(old: Shape, open_places: Sequence[Shape], *, tolerance_mm: float) -> tuple[Save, ...]:
    """Return the places that a spool could fill, the least to trim first.

    A leg may be longer, where its end can be cut back and prepared again, and never shorter by more than the tolerance;
    the turn may differ by what the tolerance allows at the end of the longer leg.

    >>> there = Shape(2, ("6", "40", "A53 B"), "beveled", "grooved", 50.0, 800.0, 500.0)
    >>> old = Shape(1, there.pipe, "beveled", "grooved", 50.0, 812.0, 500.0)
    >>> places_for(old, [there], tolerance_mm=3.0)[0].trim_a_mm
    12.0
    """
    found = [
        save
        for place in open_places
        if place.pipe == old.pipe
        for save in (
            _fits(old, place, tolerance_mm, turned=False),
            _fits(_around(old), place, tolerance_mm, turned=True),
        )
        if save is not None
    ]
    best: dict[int, Save] = {}
    for save in sorted(found, key=lambda one: (one.trim_mm, one.off_mm, one.turned_around)):
        best.setdefault(save.id, save)
    return tuple(best.values())


def _around(old: Shape) -> Shape:
    return Shape(old.id, old.pipe, old.end_b, old.end_a, old.turn_deg, old.leg_b_mm, old.leg_a_mm)


def _fits(old: Shape, place: Shape, tolerance_mm: float, *, turned: bool) -> Save | None:
    off_mm = max(place.leg_a_mm, place.leg_b_mm) * radians(abs(old.turn_deg - place.turn_deg))
    if off_mm > tolerance_mm:
        return None
    trims = []
    for over_mm, has, wants in (
        (old.leg_a_mm - place.leg_a_mm, old.end_a, place.end_a),
        (old.leg_b_mm - place.leg_b_mm, old.end_b, place.end_b),
    ):
        trim = _trim(over_mm, has, wants, tolerance_mm)
        if trim is None:
            return None
        trims.append(trim)
    return Save(place.id, trims[0], trims[1], off_mm, turned)


def _trim(over_mm: float, has: str, wants: str, tolerance_mm: float) -> float | None:
    """Return what comes off at one end, or nothing where the end can't be made to serve."""
    if abs(over_mm) <= tolerance_mm and has == wants:
        return 0.0
    if tolerance_mm < over_mm <= MOST_TRIM_MM and wants in CUT_BACK:
        return over_mm
    return None
