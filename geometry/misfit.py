"""All errors of measuring and building carried to the misfit at end B."""

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal

from geometry.adjust import CheckInput, Readings, Three, adjust, variances_of
from geometry.allowances import JointAllowance
from geometry.instruments import CUT, FIT_UP, FIT_UP_TURN, FITTING_TURN, JIG_PLAY

Square = tuple[Three, Three, Three]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildSigmas:
    """The sigmas of jig and shop, each a setting; sources in geometry.instruments.

    ``jig_play_mm`` of each leg's reading, ``cut_mm`` of each saw cut, ``fit_up_mm`` of each weld along the pipe,
    ``fit_up_turn_deg`` of each weld, in the plane of the bend and out of it, ``fitting_turn_deg`` of the bend itself.
    """

    jig_play_mm: float = JIG_PLAY.value
    cut_mm: float = CUT.value
    fit_up_mm: float = FIT_UP.value
    fit_up_turn_deg: float = FIT_UP_TURN.value
    fitting_turn_deg: float = FITTING_TURN.value


USUAL_BUILD = BuildSigmas()


@dataclass(frozen=True, slots=True, kw_only=True)
class FitInput:
    """A tie-in as measured, how it will be built, and the joint that end B must meet with end A set.

    ``take_off_mm`` from the PI to the welds of the bend (0 for a single miter). ``built_to`` says whether the shop
    builds to the readings as they are or to the adjusted figures.
    """

    measured: CheckInput
    take_off_mm: float
    allowance: JointAllowance
    build: BuildSigmas = USUAL_BUILD
    built_to: Literal["readings", "adjusted"] = "readings"


@dataclass(frozen=True, slots=True)
class Levers:
    """What one unit of each error does at end B: (turn, lateral, axial) in the plane, (turn, vertical) out of it."""

    leg_a: Three
    leg_b: Three
    included: Three
    weld_a: Three
    bend: Three
    weld_b: Three
    weld_a_out: tuple[float, float]
    weld_b_out: tuple[float, float]


def variances_of_jig(request: FitInput) -> Three:
    """Return the variances of leg A, leg B (mm2) and included angle (radians squared), play of the jig included."""
    leg_a, leg_b, included = variances_of(request.measured.sigmas)
    play = request.build.jig_play_mm**2
    return leg_a + play, leg_b + play, included


def levers_of(request: FitInput) -> Levers:
    """Return the Jacobian. Frame of end B: axial out along leg B, lateral toward the inside of the turn.

    An error of leg A is carried round the turn; a small turn at a weld moves end B by its distance from that weld; the
    included angle is 180 less the turn, so its error counts with the other sign. Source: geometry, first order.
    """
    turn = radians(180.0 - request.measured.included_deg)
    b, take_off = request.measured.leg_b_mm, request.take_off_mm
    return Levers(
        leg_a=(0.0, -sin(turn), cos(turn)),
        leg_b=(0.0, 0.0, 1.0),
        included=(-1.0, -b, 0.0),
        weld_a=(1.0, b + take_off * cos(turn), take_off * sin(turn)),
        bend=(1.0, b, 0.0),
        weld_b=(1.0, b - take_off, 0.0),
        weld_a_out=(cos(turn), take_off + b * cos(turn)),
        weld_b_out=(1.0, b - take_off),
    )


def measured_spread(request: FitInput, readings: Readings, variances: Three) -> tuple[Square, Three]:
    """Return the covariance of the measured numbers (mm, radians) and how far the readings stand off the adjusted."""
    made = adjust(
        readings,
        mark=request.measured.mark_mm,
        variances=variances,
        check_variance=request.measured.sigmas.closing_mm**2,
    )
    aa, bb, gg, ab, ag, bg = made.covariance
    ag, bg, gg = radians(ag), radians(bg), radians(radians(gg))
    off = (
        readings.leg_a - made.leg_a_mm,
        readings.leg_b - made.leg_b_mm,
        readings.included - radians(made.included_deg),
    )
    return ((aa, ab, ag), (ab, bb, bg), (ag, bg, gg)), off


def in_plane(request: FitInput, levers: Levers, covariance: Square) -> Square:
    """Return the covariance of turn, lateral and axial misfit: what was measured, then what the shop adds."""
    build = request.build
    along = build.cut_mm**2 + build.fit_up_mm**2
    weld, bend = radians(build.fit_up_turn_deg) ** 2, radians(build.fitting_turn_deg) ** 2
    shop = (
        (levers.leg_a, along),
        (levers.leg_b, along),
        (levers.weld_a, weld),
        (levers.weld_b, weld),
        (levers.bend, bend),
    )
    measured = (levers.leg_a, levers.leg_b, levers.included)

    def cell(i: int, j: int) -> float:
        total = sum(lever[i] * lever[j] * variance for lever, variance in shop)
        for k in range(3):
            for m in range(3):
                total += measured[k][i] * covariance[k][m] * measured[m][j]
        return total

    xx, xy, xz, yy, yz, zz = cell(0, 0), cell(0, 1), cell(0, 2), cell(1, 1), cell(1, 2), cell(2, 2)
    return (xx, xy, xz), (xy, yy, yz), (xz, yz, zz)


def out_of_plane(request: FitInput, levers: Levers) -> Three:
    """Return the variances of turn and vertical misfit out of the plane, and their covariance."""
    weld = radians(request.build.fit_up_turn_deg) ** 2
    both = (levers.weld_a_out, levers.weld_b_out)
    return (
        weld * sum(turn * turn for turn, _ in both),
        weld * sum(lift * lift for _, lift in both),
        weld * sum(turn * lift for turn, lift in both),
    )
