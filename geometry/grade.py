"""Pipe on grade: fall, slope and the true included angle where branch and main both fall."""

from dataclasses import dataclass
from math import atan, atan2, cos, degrees, hypot, isfinite, radians, sin

from geometry.findings import Figure, Finding, warning
from geometry.tables.tolerances import tolerance


class GradeError(ValueError):
    """A run or a slope that no pipe has; the message says what to write."""


@dataclass(frozen=True, slots=True)
class Fall:
    """A run on grade: level run, fall and true length in mm, slope in percent and degrees."""

    run_mm: float
    fall_mm: float
    percent: float
    slope_deg: float
    true_length_mm: float


def fall(*, run_mm: float, slope_in_per_ft: float) -> Fall:
    """Return the fall of a level run at a slope in inches per foot, falling positive.

    Source: geometry; fall = run x slope.

    >>> drop = fall(run_mm=7162.8, slope_in_per_ft=0.25)
    >>> round(drop.fall_mm / 25.4, 4), round(drop.percent, 4), round(drop.slope_deg, 4)
    (5.875, 2.0833, 1.1935)

    Raises GradeError for a run that isn't zero or more, or a slope that isn't a number.
    """
    if not (isfinite(run_mm) and run_mm >= 0):
        raise GradeError("The level run must be zero or more: write what was measured.")
    ratio = _ratio(slope_in_per_ft)
    return Fall(
        run_mm=run_mm,
        fall_mm=run_mm * ratio,
        percent=100.0 * ratio,
        slope_deg=degrees(atan(ratio)),
        true_length_mm=run_mm * hypot(1.0, ratio),
    )


def true_included_deg(*, plan_included_deg: float, branch_slope_in_per_ft: float, main_slope_in_per_ft: float) -> float:
    """Return the true angle in degrees between two pipes on grade that meet at `plan_included_deg` on the plan.

    Both slopes fall in the direction that the plan angle is measured from the joint, in inches per foot.
    Source: angle of the two directions in space, atan2 of cross and dot product.

    >>> round(true_included_deg(plan_included_deg=45, branch_slope_in_per_ft=0.25, main_slope_in_per_ft=0.125), 3)
    44.998

    Raises GradeError for numbers that no plan has.
    """
    if not (isfinite(plan_included_deg) and 0 <= plan_included_deg <= 180):
        raise GradeError("The included angle on the plan must be from 0 to 180 degrees: read the plan again.")
    plan = radians(plan_included_deg)
    main, branch = _ratio(main_slope_in_per_ft), _ratio(branch_slope_in_per_ft)
    dot = cos(plan) + main * branch
    cross = (main * sin(plan), branch - main * cos(plan), sin(plan))
    return degrees(atan2(hypot(*cross), dot))


def check_fall(*, nps: str, slope_in_per_ft: float) -> tuple[Finding, ...]:
    """Return what must be said about the slope of a drain, falling away positive.

    Source: IPC Table 704.1 as adopted by Chicago; local code governs.

    >>> [finding.code for finding in check_fall(nps="4", slope_in_per_ft=0.0625)]
    ['fall_too_small']

    Raises UnknownPipe for a size that isn't in the tables and GradeError for a slope that isn't a number.
    """
    _ratio(slope_in_per_ft)
    least = tolerance("drain_least_fall", nps)
    figures = (Figure("slope", slope_in_per_ft, "in per ft"), Figure("least slope", least.value, "in per ft"))
    if slope_in_per_ft < 0:
        return (warning("backfall", "The pipe falls back toward where it comes from: read the level again.", *figures),)
    if slope_in_per_ft < least.value - 1e-9:
        text = f"NPS {nps} needs {_eighths(least.value)} in per ft or more ({least.source}): ask the engineer."
        return (warning("fall_too_small", text, *figures),)
    return ()


def _ratio(slope_in_per_ft: float) -> float:
    if not isfinite(slope_in_per_ft):
        raise GradeError("The slope must be a number of inches per foot, such as 0.25.")
    return slope_in_per_ft / 12.0


def _eighths(value: float) -> str:
    return {0.25: "1/4", 0.125: "1/8", 0.0625: "1/16"}.get(value, f"{value:g}")
