"""Two surveyed axes to the legs and turn of one tie-in, or the reason why one bend can't do it."""

from dataclasses import dataclass
from math import atan2, degrees, hypot, sqrt
from typing import Literal

from geometry.axes import Axis, SurveyError, axis_from_direction, axis_from_shots
from geometry.centerline import moved
from geometry.findings import Figure, Finding, caution, error, warning
from geometry.vectors import Vector, apart, crossed, dotted, length_of

__all__ = ["Axis", "SurveyError", "SurveyedTieIn", "axis_from_direction", "axis_from_shots", "tie_in_from_axes"]

PARALLEL = 1e-6  # sine of the turn under which two axes never meet
NOT_PROVED = 2.0  # a skew under this many of its own sigmas may be the survey's (common practice, no source)
NO_SKEW_MM = 25.4 / 32  # half a graduation of the tape: nothing to say
WILD_SHOT = 3.0  # a shot this many sigmas off its axis is shot again (common practice, no source)

Make = Literal["straight", "one_bend", "two_bends"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyedTieIn:
    """What two axes ask for.

    ``make`` is ``one_bend`` (a planar spool), ``two_bends`` or ``straight``. Legs run from the PI to each port and may
    be negative where the axes cross behind a port (then no single bend). ``skew_mm`` is how far the axes miss each
    other, ``proved`` that it is more than the survey's own doubt. ``pi`` lies midway between the axes, None where they
    are parallel; then the legs are nothing.
    """

    make: Make
    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    skew_mm: float
    sigma_a_mm: float
    sigma_b_mm: float
    sigma_included_deg: float
    sigma_skew_mm: float
    proved: bool
    pi: Vector | None
    findings: tuple[Finding, ...]

    @property
    def turn_deg(self) -> float:
        """Return the change of direction, 180 less the included angle."""
        return 180.0 - self.included_deg


@dataclass(frozen=True, slots=True)
class _Approach:
    """Where two axes come nearest: distances from each port (mm), the miss, sine and cosine between them."""

    a: float
    b: float
    skew: float
    sine: float
    cosine: float


def tie_in_from_axes(axis_a: Axis, axis_b: Axis, *, joints_take_mm: float) -> SurveyedTieIn:
    """Return legs, included angle and skew of the tie-in between two surveyed axes.

    Args: the axes, each pointing from its existing pipe into the spool; ``joints_take_mm``, the offset across that the
    two joints can take together: within it the spool is made planar.
    Returns the tie-in with its findings; it never raises for axes that can't be joined by one bend.
    Source: closest approach of two lines, the first port as origin; errors of each axis at the PI, first order.

    >>> a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    >>> b = axis_from_direction((1000.0, 800.0, 0.0), (0.0, -1.0, 0.0))
    >>> made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    >>> made.make, made.leg_a_mm, made.leg_b_mm, made.included_deg
    ('one_bend', 1000.0, 800.0, 90.0)
    """
    wild = _wild_shots(axis_a, "A") + _wild_shots(axis_b, "B")
    across = apart(axis_a.port, axis_b.port)
    sine = length_of(crossed(axis_a.along, axis_b.along))
    if sine < PARALLEL:
        return _parallel(axis_a, axis_b, across, wild, joints_take_mm)
    near = _approach(axis_a, axis_b, across)
    sigma_a, sigma_b, sigma_skew = _sigmas(axis_a, axis_b, near)
    proved = near.skew > NOT_PROVED * sigma_skew
    findings = wild + _skew_findings(near, sigma_skew, joints_take_mm, proved=proved) + _behind(near)
    two = near.skew > joints_take_mm or near.a <= 0.0 or near.b <= 0.0
    on_a, on_b = moved(axis_a.port, axis_a.along, near.a), moved(axis_b.port, axis_b.along, near.b)
    return SurveyedTieIn(
        make="two_bends" if two else "one_bend",
        leg_a_mm=near.a,
        leg_b_mm=near.b,
        included_deg=degrees(atan2(near.sine, near.cosine)),
        skew_mm=near.skew,
        sigma_a_mm=sigma_a,
        sigma_b_mm=sigma_b,
        sigma_included_deg=degrees(hypot(axis_a.sigma_slope, axis_b.sigma_slope)),
        sigma_skew_mm=sigma_skew,
        proved=proved,
        pi=((on_a[0] + on_b[0]) / 2.0, (on_a[1] + on_b[1]) / 2.0, (on_a[2] + on_b[2]) / 2.0),
        findings=tuple(findings),
    )


def _approach(axis_a: Axis, axis_b: Axis, across: Vector) -> _Approach:
    """Return the closest approach: n = u1 x u2, A = (w x u2).n / n.n, B = (w x u1).n / n.n, skew = |w.n| / |n|."""
    normal = crossed(axis_a.along, axis_b.along)
    squared = dotted(normal, normal)
    return _Approach(
        a=dotted(crossed(across, axis_b.along), normal) / squared,
        b=dotted(crossed(across, axis_a.along), normal) / squared,
        skew=abs(dotted(across, normal)) / sqrt(squared),
        sine=sqrt(squared),
        cosine=dotted(axis_a.along, axis_b.along),
    )


def _sigmas(axis_a: Axis, axis_b: Axis, near: _Approach) -> tuple[float, float, float]:
    """Return the sigmas of leg A, leg B and skew: each axis is carried to the PI with its direction's doubt."""
    at_a, at_b = axis_a.sigma_across_mm(near.a), axis_b.sigma_across_mm(near.b)
    cotangent = near.cosine / near.sine
    leg_a = sqrt((at_a * cotangent) ** 2 + (at_b / near.sine) ** 2 + axis_a.sigma_along_mm**2)
    leg_b = sqrt((at_b * cotangent) ** 2 + (at_a / near.sine) ** 2 + axis_b.sigma_along_mm**2)
    return leg_a, leg_b, hypot(at_a, at_b)


def _skew_findings(near: _Approach, sigma: float, joints_take_mm: float, *, proved: bool) -> list[Finding]:
    figures = (
        Figure("skew", near.skew, "mm"),
        Figure("sigma of skew", sigma, "mm"),
        Figure("joints take", joints_take_mm, "mm"),
    )
    if near.skew <= min(joints_take_mm, NO_SKEW_MM):
        return []
    if near.skew <= joints_take_mm:
        return [caution("skew_taken", "The axes miss each other by less than the joints take: one bend.", *figures)]
    if proved:
        text = "The axes miss each other by more than the joints take: two bends, or move a port."
        return [warning("skew_needs_two_bends", text, *figures)]
    text = (
        "The axes seem to miss each other by more than the joints take, but that is not proved: "
        "the shots are too near each other. Shoot a longer base before choosing two bends."
    )
    return [warning("skew_not_proved", text, *figures)]


def _behind(near: _Approach) -> list[Finding]:
    behind = [name for name, leg in (("A", near.a), ("B", near.b)) if leg <= 0.0]
    if not behind:
        return []
    text = (
        f"The axes cross behind port {' and port '.join(behind)}, inside the existing pipe: no single bend joins them. "
        "Use two bends, or check that each axis points from the existing pipe into the spool."
    )
    return [error("crosses_behind_port", text, Figure("leg A", near.a, "mm"), Figure("leg B", near.b, "mm"))]


def _parallel(axis_a: Axis, axis_b: Axis, across: Vector, wild: list[Finding], joints_take_mm: float) -> SurveyedTieIn:
    """Return straight pipe where the axes face each other in one line, else two bends."""
    along = dotted(across, axis_a.along)
    offset = length_of(crossed(across, axis_a.along))
    facing = dotted(axis_a.along, axis_b.along) < 0.0 and along > 0.0
    sigma = hypot(axis_a.sigma_across_mm(along), axis_b.sigma_middle_mm)
    straight = facing and offset <= joints_take_mm
    if straight:
        found = caution("straight_pipe", "The ports face each other in one line: straight pipe, no bend.")
    else:
        text = "The axes are parallel and apart: no single bend joins them. Use two bends, an offset."
        found = warning("parallel_axes", text, Figure("offset", offset, "mm"))
    return SurveyedTieIn(
        make="straight" if straight else "two_bends",
        leg_a_mm=along / 2.0 if straight else 0.0,
        leg_b_mm=along / 2.0 if straight else 0.0,
        included_deg=180.0 if facing else 0.0,
        skew_mm=offset,
        sigma_a_mm=axis_a.sigma_along_mm,
        sigma_b_mm=axis_b.sigma_along_mm,
        sigma_included_deg=degrees(hypot(axis_a.sigma_slope, axis_b.sigma_slope)),
        sigma_skew_mm=sigma,
        proved=offset > NOT_PROVED * sigma,
        pi=None,
        findings=(*wild, found),
    )


def _wild_shots(axis: Axis, name: str) -> list[Finding]:
    worst = max(axis.residuals_mm, default=0.0)
    if worst <= WILD_SHOT * axis.sigma_along_mm:
        return []
    place = axis.residuals_mm.index(worst) + 1
    text = f"The shots on axis {name} don't lie in one line (worst at shot {place}): shoot axis {name} again."
    return [warning("wild_shot", text, Figure("off the axis", worst, "mm"))]
