"""Will end B meet its joint: the chance that it fits, before any cut, and what to measure again."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import degrees, radians, sqrt

from geometry.adjust import Readings, Three, computed_checks, readings_of
from geometry.findings import Figure, Finding, caution
from geometry.instruments import INCH_MM
from geometry.misfit import (
    USUAL_BUILD,
    BuildSigmas,
    FitInput,
    Levers,
    Square,
    in_plane,
    levers_of,
    measured_spread,
    out_of_plane,
    variances_of_jig,
)
from geometry.normal_box import pair_inside, triple_inside

__all__ = ["USUAL_BUILD", "BuildSigmas", "FitInput", "FitReport", "Repeat", "fit_probability", "fit_report"]

WORTH_REPEATING = 0.01  # a second reading must raise the chance by this much to be asked for (practice, no source)
DOUBTFUL = 0.8  # under this chance the fit is said to be doubtful (common practice, no source)
SECOND_ORDER_MM = 0.01 * INCH_MM  # leg B shortens by B x sigma^2 / 2: said beyond this
HOW_TO_REPEAT = {
    "A": "measure leg A a second time and take the mean",
    "B": "measure leg B a second time and take the mean",
    "included": "read the included angle a second time and take the mean",
    "C": "measure C from the hook",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """The reading that gains most when it is taken a second time and averaged, and the chance after that.

    ``number`` is ``A``, ``B`` or ``included``, or ``C`` where C was not measured yet.
    """

    number: str
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """Misfit at end B, in its own frame, and the chance that the joint takes it.

    ``sigma_axial_mm`` along the pipe, ``sigma_lateral_mm`` across in the plane of the bend, ``sigma_vertical_mm`` out
    of it, ``sigma_turn_deg`` between the axes in the plane. ``probability`` is that of all inside the limits at once.
    """

    sigma_axial_mm: float
    sigma_lateral_mm: float
    sigma_vertical_mm: float
    sigma_turn_deg: float
    probability: float
    best_repeat: Repeat | None
    findings: tuple[Finding, ...]


def fit_report(request: FitInput) -> FitReport:
    """Carry all errors to end B and say how likely it meets its joint, with end A set.

    Source: first-order propagation with the analytic Jacobian below; joint probability by quadrature; compared with a
    non-linear Monte Carlo in tests/geometry/test_fit.py. Out of the plane the spool is taken as it comes: not rolled
    on leg A to help.

    >>> from geometry.adjust import CheckInput
    >>> from geometry.allowances import grooved
    >>> from geometry.tables import pipe
    >>> measured = CheckInput(leg_a_mm=914.4, leg_b_mm=609.6, included_deg=135.0, closing_mm=1412.8)
    >>> joint = grooved(pipe("4", "40"), coupling="flexible")
    >>> report = fit_report(FitInput(measured=measured, take_off_mm=63.1, allowance=joint))
    >>> round(report.sigma_lateral_mm, 1), report.best_repeat.number
    (4.3, 'included')
    """
    levers = levers_of(request)
    out = out_of_plane(request, levers)
    outside = _out_of_plane_chance(request, out)
    covariance, off = measured_spread(request, readings_of(request.measured), variances_of_jig(request))
    spread = in_plane(request, levers, covariance)
    adjusted = outside * _in_plane_chance(request, levers, spread, (0.0, 0.0, 0.0))
    built = adjusted
    if request.built_to == "readings" and any(off):
        built = outside * _in_plane_chance(request, levers, spread, off)
    repeat = _best_repeat(request, levers, outside, adjusted)
    return FitReport(
        sigma_axial_mm=sqrt(spread[2][2]),
        sigma_lateral_mm=sqrt(spread[1][1]),
        sigma_vertical_mm=sqrt(out[1]),
        sigma_turn_deg=degrees(sqrt(spread[0][0])),
        probability=built,
        best_repeat=repeat,
        findings=_findings(request, built, adjusted, repeat, spread[0][0]),
    )


def fit_probability(request: FitInput) -> float:
    """Return only the chance that end B meets its joint: see ``fit_report``."""
    levers = levers_of(request)
    covariance, off = measured_spread(request, readings_of(request.measured), variances_of_jig(request))
    mean = off if request.built_to == "readings" else (0.0, 0.0, 0.0)
    inside = _in_plane_chance(request, levers, in_plane(request, levers, covariance), mean)
    return inside * _out_of_plane_chance(request, out_of_plane(request, levers))


def _in_plane_chance(request: FitInput, levers: Levers, spread: Square, off: Three) -> float:
    measured = (levers.leg_a, levers.leg_b, levers.included)
    turn, lateral, axial = (sum(lever[i] * by for lever, by in zip(measured, off, strict=True)) for i in range(3))
    take = request.allowance
    turn_limit = radians(take.turn_deg)
    box = ((-turn_limit, turn_limit), (-take.offset_mm, take.offset_mm), (-take.short_mm, take.long_mm))
    return triple_inside((turn, lateral, axial), spread, box)


def _out_of_plane_chance(request: FitInput, out: Three) -> float:
    if out[0] == 0.0:
        return 1.0
    turn, offset = radians(request.allowance.turn_deg), request.allowance.offset_mm
    return pair_inside((0.0, 0.0), out, ((-turn, turn), (-offset, offset)))


def _repeats(request: FitInput) -> Iterator[tuple[str, Readings, Three]]:
    """Yield each reading that could be taken again (averaging halves its variance), and C where it wasn't taken."""
    readings, usual = readings_of(request.measured), variances_of_jig(request)
    yield "A", readings, (usual[0] / 2.0, usual[1], usual[2])
    yield "B", readings, (usual[0], usual[1] / 2.0, usual[2])
    yield "included", readings, (usual[0], usual[1], usual[2] / 2.0)
    if readings.taken[0] is None:
        closing = computed_checks(readings, request.measured.mark_mm)[0][0]
        yield "C", replace(readings, taken=(closing, *readings.taken[1:])), usual


def _best_repeat(request: FitInput, levers: Levers, outside: float, now: float) -> Repeat | None:
    best = None
    for number, readings, variances in _repeats(request):
        covariance, _ = measured_spread(request, readings, variances)
        chance = outside * _in_plane_chance(request, levers, in_plane(request, levers, covariance), (0.0, 0.0, 0.0))
        if best is None or chance > best.probability:
            best = Repeat(number=number, probability=chance)
    return best if best is not None and best.probability >= now + WORTH_REPEATING else None


def _findings(
    request: FitInput, built: float, adjusted: float, repeat: Repeat | None, turn_variance: float
) -> tuple[Finding, ...]:
    found = []
    chance = Figure("chance", built)
    if built < DOUBTFUL:
        advice = f": {HOW_TO_REPEAT[repeat.number]}." if repeat else ", and no second reading helps: leave field trim."
        found.append(caution("fit_doubtful", f"End B may not meet its {request.allowance.joint}{advice}", chance))
    if adjusted > built + WORTH_REPEATING:
        found.append(
            caution(
                "build_to_adjusted",
                "Building to the adjusted figures makes a better fit than to the readings as they are.",
                chance,
                Figure("chance when adjusted", adjusted),
            )
        )
    shortens = request.measured.leg_b_mm * turn_variance / 2.0
    if shortens > SECOND_ORDER_MM:
        found.append(
            caution(
                "fit_first_order",
                "The included angle is so uncertain that leg B comes out short on average: the chance is a rough one.",
                Figure("shortens", shortens, "mm"),
            )
        )
    return tuple(found)
