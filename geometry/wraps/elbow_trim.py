"""Marks on an elbow to trim it to an odd turn: arc lengths from a face along numbered lines."""

from dataclasses import dataclass
from math import cos, degrees, isfinite, radians

from geometry.wraps.lines import Layout, WrapError, line_angles_deg


@dataclass(frozen=True, slots=True)
class TrimMark:
    """One line along the elbow: its place around from the heel and the arc to lay off from the face that stays."""

    number: int
    around_deg: float
    arc_mm: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class ElbowTrim:
    """The marks of one trim and what is left over of the fitting."""

    marks: tuple[TrimMark, ...]
    throat_mm: float
    center_mm: float
    heel_mm: float
    left_over_deg: float
    directions: tuple[str, ...]


def elbow_trim_marks(
    *, radius_mm: float, od_mm: float, turn_deg: float, from_deg: float = 90.0, kerf_mm: float = 0.0, lines: int = 8
) -> ElbowTrim:
    """Return the arcs to lay off on an elbow.

    Args:
        radius_mm: center-line radius of the elbow.
        od_mm: outside diameter of the elbow.
        turn_deg: turn to keep, more than 0 up to the fitting's own.
        from_deg: turn of the fitting as bought, 90, 45 or 180.
        kerf_mm: width of the cut on the center line.
        lines: number of lines around the elbow; the heel is the first.

    Returns:
        Arcs in mm along the elbow's outside, and the turn that is left over after the kerf.

    Raises:
        WrapError: a figure can't be, or the fitting doesn't have that much turn.

    Source: arc length, (R + OD/2 cos th) x turn; Hamilton, Math To Build On, Cutting Elbows, prints the same three.

    >>> trim = elbow_trim_marks(radius_mm=76.2, od_mm=50.8, turn_deg=45.0)
    >>> [round(arc / 25.4, 4) for arc in (trim.throat_mm, trim.center_mm, trim.heel_mm)]
    [1.5708, 2.3562, 3.1416]
    """
    if not (isfinite(od_mm) and isfinite(radius_mm) and 0.0 < od_mm / 2 <= radius_mm):
        raise WrapError(
            f"The elbow's radius ({radius_mm:g} mm) must be at least half its outside diameter ({od_mm:g} mm)."
        )
    if not (isfinite(turn_deg) and 0.0 < turn_deg <= from_deg + 1e-9):
        raise WrapError(f"A {from_deg:g}-degree elbow can be trimmed to a turn of 0 to {from_deg:g}; got {turn_deg:g}.")
    turn, r = radians(turn_deg), od_mm / 2
    names = {0.0: "heel", 90.0: "center", 180.0: "throat", 270.0: "center"}
    left = from_deg - turn_deg - degrees(kerf_mm / radius_mm)
    return ElbowTrim(
        marks=tuple(
            TrimMark(n, deg, (radius_mm + r * cos(radians(deg))) * turn, names.get(deg, ""))
            for n, deg in enumerate(line_angles_deg(Layout(lines=lines)))
        ),
        throat_mm=(radius_mm - r) * turn,
        center_mm=radius_mm * turn,
        heel_mm=(radius_mm + r) * turn,
        left_over_deg=max(0.0, left),
        directions=(
            "Lay the tape on the elbow along each line, from the face that stays; a straight chord is shorter.",
            "Check hi-lo: the trimmed face can be out of round and thicker.",
        ),
    )
