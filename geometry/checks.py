"""Does a tie-in's reading close: what C should be, how far off it is, and the likely mistake."""

from dataclasses import dataclass
from math import asin, degrees, radians, sqrt

from geometry import check_findings
from geometry.adjust import (
    Adjusted,
    CheckError,
    CheckInput,
    adjusted_reading,
    computed_checks,
    distance_with_slopes,
    readings_of,
)
from geometry.agreement import agrees, closing_limit_mm
from geometry.blind_spots import further_measures
from geometry.blunders import SmallestSeen, Suspect, smallest_seen, suspects
from geometry.findings import Finding
from geometry.instruments import MeasuringSigmas
from geometry.mistakes import CHECK_NAMES

__all__ = [
    "Adjusted",
    "CheckError",
    "CheckInput",
    "CheckMeasure",
    "CheckReport",
    "MeasuringSigmas",
    "Sensitivities",
    "SmallestSeen",
    "Suspect",
    "check_reading",
    "closing_measure",
    "included_from_closing",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivities:
    """What moves C: per mm of each leg (the same per inch), and mm per degree of the included angle."""

    per_leg_a: float
    per_leg_b: float
    mm_per_degree: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckMeasure:
    """One check measure taken: ``C``, ``D`` or ``E``, what legs and angle make of it, and measured minus that."""

    name: str
    measured_mm: float
    computed_mm: float
    off_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """What the check measures say about one reading.

    ``closing_computed_mm`` is C as the legs and the included angle give it; ``misclosure_mm`` is measured minus
    computed (None without C); ``tolerance_mm`` is how far C may be off, on the side it is off, by the instruments
    alone. ``included_by_tape_deg`` is the included angle from A, B and C (None without C, or where these make no
    triangle). ``checked`` tells whether any check measure was taken; ``closes`` that some were and all agree.
    ``needs`` names the further measures to take: ``D``, ``E`` or both. ``suspects`` come likeliest first.
    """

    closing_computed_mm: float
    misclosure_mm: float | None
    tolerance_mm: float
    sensitivities: Sensitivities
    included_by_tape_deg: float | None
    measures: tuple[CheckMeasure, ...]
    adjusted: Adjusted
    checked: bool
    closes: bool
    suspects: tuple[Suspect, ...]
    smallest_seen: tuple[SmallestSeen, ...]
    needs: tuple[str, ...]
    findings: tuple[Finding, ...]


def closing_measure(*, leg_a_mm: float, leg_b_mm: float, included_deg: float) -> float:
    """Return C, end A to end B, in mm. Source: law of cosines in its half-angle form.

    >>> round(closing_measure(leg_a_mm=36, leg_b_mm=24, included_deg=135), 4)
    55.6227
    """
    return distance_with_slopes(leg_a_mm, leg_b_mm, radians(included_deg))[0]


def included_from_closing(*, leg_a_mm: float, leg_b_mm: float, closing_mm: float) -> float:
    """Return the included angle that three tape measures make, in degrees.

    Raises CheckError where the three lengths make no triangle. Source: half-angle form of the law of cosines, which
    keeps its digits near 180 and near equal legs.

    >>> round(included_from_closing(leg_a_mm=41.5, leg_b_mm=27.25, closing_mm=62), 4)
    127.5742
    """
    squared = (closing_mm**2 - (leg_a_mm - leg_b_mm) ** 2) / (4.0 * leg_a_mm * leg_b_mm)
    if not 0.0 <= squared <= 1.0 + 1e-12:
        raise CheckError("These three lengths make no triangle: measure A, B and C again.")
    return degrees(2.0 * asin(min(sqrt(squared), 1.0)))


def check_reading(measured: CheckInput) -> CheckReport:
    """Check one reading against every check measure taken and say what to do.

    Returns the report; trouble is in its findings, never an exception.

    >>> report = check_reading(CheckInput(leg_a_mm=939.8, leg_b_mm=609.6, included_deg=135, closing_mm=1413,
    ...                                   burn_a_mm=25.4, burn_b_mm=25.4))
    >>> report.closes, round(report.misclosure_mm, 1), [suspect.number for suspect in report.suspects]
    (False, -24.0, ['A', 'B', 'C'])
    >>> report.findings[0].text[:80]
    'Does not close: measure again, most likely the burned inches on leg A or the bur'
    """
    readings = readings_of(measured)
    rows = computed_checks(readings, measured.mark_mm)
    measures = tuple(
        CheckMeasure(name=name, measured_mm=length, computed_mm=row[0], off_mm=length - row[0])
        for name, length, row in zip(CHECK_NAMES, readings.taken, rows, strict=True)
        if length is not None
    )
    misclosure = measures[0].off_mm if measured.closing_mm is not None else None
    closes = bool(measures) and agrees(measured)
    likely = () if closes else suspects(measured)
    needs = further_measures(measured, likely, closes=closes)
    seen = smallest_seen(measured)
    return CheckReport(
        closing_computed_mm=rows[0][0],
        misclosure_mm=misclosure,
        tolerance_mm=closing_limit_mm(measured, rows[0], misclosure_mm=misclosure),
        sensitivities=Sensitivities(per_leg_a=rows[0][1], per_leg_b=rows[0][2], mm_per_degree=radians(rows[0][3])),
        included_by_tape_deg=_included_by_tape(measured),
        measures=measures,
        adjusted=adjusted_reading(measured),
        checked=bool(measures),
        closes=closes,
        suspects=likely,
        smallest_seen=seen,
        needs=needs,
        findings=_findings(measured, closes=closes, misclosure=misclosure, likely=likely, needs=needs, seen=seen),
    )


def _findings(
    measured: CheckInput,
    *,
    closes: bool,
    misclosure: float | None,
    likely: tuple[Suspect, ...],
    needs: tuple[str, ...],
    seen: tuple[SmallestSeen, ...],
) -> tuple[Finding, ...]:
    found = []
    if not seen:
        found.append(check_findings.not_checked())
    elif not closes:
        found.append(check_findings.does_not_close(likely, needs, misclosure))
    found += check_findings.what_is_not_seen(measured, seen)
    found += check_findings.mark_beyond_end(measured)
    if closes:
        found += check_findings.sharp_or_gentle(measured)
        found += check_findings.over_spool_tolerance(measured, misclosure)
    return tuple(found)


def _included_by_tape(measured: CheckInput) -> float | None:
    if measured.closing_mm is None:
        return None
    try:
        return included_from_closing(
            leg_a_mm=measured.leg_a_mm, leg_b_mm=measured.leg_b_mm, closing_mm=measured.closing_mm
        )
    except CheckError:
        return None
