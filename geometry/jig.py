"""Readings of the swivel jig to legs and turn, inside the jig's own range."""

from dataclasses import dataclass
from math import isfinite

from geometry.centerline import is_straight
from geometry.findings import Figure, Finding, caution, error
from geometry.lengths import LONGEST_MM, format_length

RANGE_SLACK = 1e-9
"""A range is closed: 180 - 120.0000000001 is still 60."""


class JigError(ValueError):
    """A jig that can't be: the message says what to set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jig:
    """What a jig can read: included angles and tape readings, both ranges closed.

    Source: a common jig stops at 60 degrees included; common practice, no source. A leg limit of None isn't checked.

    Raises:
        JigError: a range that is upside down or outside 0 to 180 degrees.

    """

    least_included_deg: float = 60.0
    most_included_deg: float = 180.0
    least_leg_mm: float | None = None
    most_leg_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse ranges that no jig has."""
        if not 0.0 < self.least_included_deg <= self.most_included_deg <= 180.0:
            raise JigError("A jig reads from some included angle up to at most 180 degrees, such as 60 to 180.")
        if self.least_leg_mm is not None and self.most_leg_mm is not None and self.least_leg_mm > self.most_leg_mm:
            raise JigError("The jig's shortest leg is longer than its longest: exchange the two.")


@dataclass(frozen=True, slots=True, kw_only=True)
class SideReading:
    """One side of the jig: the tape reading, the mark burned at the set point, and the set point itself, in mm.

    They are stored with the reading, so that a later change of the jig's settings moves no old reading.
    """

    reading_mm: float
    burn_mm: float
    set_point_mm: float

    @property
    def center_to_end_mm(self) -> float:
        """From the pivot center to the end: reading - burn + set point. Source: common practice, no source.

        >>> SideReading(reading_mm=1000.0, burn_mm=101.6, set_point_mm=127.0).center_to_end_mm
        1025.4
        """
        return self.reading_mm - self.burn_mm + self.set_point_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class JigLegs:
    """Both legs from the PI, the included angle and the turn; ``findings`` hold what is out of range."""

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    turn_deg: float
    findings: tuple[Finding, ...] = ()


ANY_JIG = Jig()


def legs_of(a: SideReading, b: SideReading, *, included_deg: float, jig: Jig = ANY_JIG) -> JigLegs:
    """Return legs and turn from one jig reading.

    Args: both sides in mm, each with its own burn and set point; the included angle in degrees; the jig's range.
    Returns: the legs with findings; an included angle of 180 is straight pipe, no bend. Never raises.
    Source: center_to_end = reading - burn + set point, common practice; turn = 180 - included, geometry.

    >>> side = SideReading(reading_mm=1000.0, burn_mm=101.6, set_point_mm=101.6)
    >>> legs = legs_of(side, side, included_deg=142.0)
    >>> legs.leg_a_mm, legs.turn_deg, legs.findings
    (1000.0, 38.0, ())
    """
    found = [*_leg_findings("A", a, jig), *_leg_findings("B", b, jig), *_included_findings(included_deg, jig)]
    if not found and is_straight(included_deg):
        found.append(caution("straight_pipe", "180 degrees included is straight pipe: no bend, one piece."))
    return JigLegs(
        leg_a_mm=a.center_to_end_mm,
        leg_b_mm=b.center_to_end_mm,
        included_deg=included_deg,
        turn_deg=180.0 - included_deg,
        findings=tuple(found),
    )


def _leg_findings(side: str, read: SideReading, jig: Jig) -> list[Finding]:
    """Check one side: numbers at all, a leg above zero, the reading inside the jig's range."""
    numbers = (read.reading_mm, read.burn_mm, read.set_point_mm)
    if not all(isfinite(number) and abs(number) <= LONGEST_MM for number in numbers):
        return [error("reading_not_a_length", f"Leg {side} is not a length: read the tape again.")]
    leg_mm = read.center_to_end_mm
    if leg_mm <= 0.0:
        text = (
            f"Leg {side} comes to {format_length(leg_mm)}: reading {format_length(read.reading_mm)} - burn "
            f"{format_length(read.burn_mm)} + set point {format_length(read.set_point_mm)}. Read the tape again."
        )
        return [error("leg_not_positive", text, Figure("leg", leg_mm, "mm"))]
    if jig.least_leg_mm is not None and leg_mm < jig.least_leg_mm - RANGE_SLACK:
        text = f"Leg {side} is {format_length(leg_mm)}, shorter than the jig reads ({format_length(jig.least_leg_mm)})."
        return [error("leg_outside_jig", f"{text} Measure it without the jig.", Figure("leg", leg_mm, "mm"))]
    if jig.most_leg_mm is not None and leg_mm > jig.most_leg_mm + RANGE_SLACK:
        text = f"Leg {side} is {format_length(leg_mm)}, longer than the jig reads ({format_length(jig.most_leg_mm)})."
        return [error("leg_outside_jig", f"{text} Take it by survey shots.", Figure("leg", leg_mm, "mm"))]
    return []


def _included_findings(included_deg: float, jig: Jig) -> list[Finding]:
    least, most = jig.least_included_deg, jig.most_included_deg
    if isfinite(included_deg) and least - RANGE_SLACK <= included_deg <= most + RANGE_SLACK:
        return []
    read = Figure("included_angle", included_deg, "deg")
    text = f"An included angle of {included_deg:.10g} is outside the jig's {least:g} to {most:g} degrees."
    supplement = 180.0 - included_deg
    if least <= supplement <= most:
        text = f"{text} Was the supplement read? That would be {supplement:.10g}."
    return [error("included_outside_jig", f"{text} Read it again on the jig.", read)]
