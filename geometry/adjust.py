"""Weighted least squares of one tie-in's readings: legs, included angle and up to three check measures."""

from dataclasses import dataclass
from math import cos, degrees, radians, sin, sqrt

from geometry.instruments import FOOT_MM, INCH_MM, USUAL_SIGMAS, MeasuringSigmas
from geometry.thresholds import THRESHOLDS

ROUNDS = 4  # the readings are close to the answer: each round gains at least two digits
SETTLED_MM = 1e-6

Three = tuple[float, float, float]
Row = tuple[float, float, float, float]
Six = tuple[float, float, float, float, float, float]  # aa, bb, gg, ab, ag, bg of a symmetric three by three


class CheckError(ValueError):
    """A reading that cannot be checked at all; the message says what to measure or set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckInput:
    """One tie-in as measured, in mm and degrees, burn already taken off the legs.

    ``leg_a_mm`` and ``leg_b_mm`` run from the pivot center to the measured reference of each end.
    ``closing_mm`` is C, end A to end B. ``mark_to_end_b_mm`` is D, from a mark 12 in from the pivot on leg A to end B.
    ``back_mark_to_end_b_mm`` is E, from a mark 12 in back from end A to end B. C, D and E are read from the hook.
    ``burn_*`` and ``set_point_*`` are what was used on each side (leg = tape reading - burn + set point).
    Raises CheckError where a length is not above zero or the included angle is not in 0 to 180.
    """

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    closing_mm: float | None = None
    mark_to_end_b_mm: float | None = None
    back_mark_to_end_b_mm: float | None = None
    burn_a_mm: float = 0.0
    burn_b_mm: float = 0.0
    set_point_a_mm: float = 0.0
    set_point_b_mm: float = 0.0
    mark_mm: float = FOOT_MM
    sigmas: MeasuringSigmas = USUAL_SIGMAS
    significance: float = 0.01
    spool_tolerance_mm: float = INCH_MM / 8

    def __post_init__(self) -> None:
        """Refuse what no tape and no protractor can read."""
        lengths = (self.leg_a_mm, self.leg_b_mm, self.closing_mm, self.mark_to_end_b_mm, self.back_mark_to_end_b_mm)
        if not all(0.0 < length < 1e6 for length in lengths if length is not None):
            raise CheckError("A leg or a check measure must be longer than zero: read it again, in in or mm.")
        if not 0.0 < self.included_deg <= 180.0 + 1e-9:
            raise CheckError("The included angle must be above 0 and at most 180 degrees: read the jig again.")
        if self.significance not in THRESHOLDS:
            raise CheckError("The significance must be 0.05, 0.01 or 0.001: 0.01 is usual.")


@dataclass(frozen=True, slots=True)
class Readings:
    """Legs in mm, included angle in radians, and the check measures (C, D, E), None where not taken."""

    leg_a: float
    leg_b: float
    included: float
    taken: tuple[float | None, float | None, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """The likeliest legs and included angle once every reading has its say, with their sigmas.

    ``covariance`` holds aa, bb, gg, ab, ag, bg of leg A, leg B and included angle (mm2, deg2, mm deg).
    ``statistic`` is the weighted sum of squared corrections; ``checks`` how many check measures judged it.
    """

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    sigma_a_mm: float
    sigma_b_mm: float
    sigma_included_deg: float
    covariance: Six
    statistic: float
    checks: int


def readings_of(measured: CheckInput) -> Readings:
    """Return the five or six numbers to adjust, the included angle in radians."""
    taken = (measured.closing_mm, measured.mark_to_end_b_mm, measured.back_mark_to_end_b_mm)
    return Readings(measured.leg_a_mm, measured.leg_b_mm, radians(measured.included_deg), taken)


def distance_with_slopes(a: float, b: float, included: float) -> tuple[float, float, float, float]:
    """Return the third side of a triangle and its slopes for a, b and the included angle (radians).

    C = sqrt((a - b)^2 + 4ab sin^2(g/2)) keeps its digits near 180 and near equal legs, where the cosine law loses them.
    A negative ``a`` is a mark beyond the pivot. Source: law of cosines.
    """
    half = sin(included / 2.0)
    third = sqrt(max((a - b) ** 2 + 4.0 * a * b * half * half, 0.0))
    if third < 1e-9:
        return third, 0.0, 0.0, 0.0
    across = cos(included)
    return third, (a - b * across) / third, (b - a * across) / third, a * b * sin(included) / third


def computed_checks(readings: Readings, mark: float) -> tuple[tuple[float, float, float, float], ...]:
    """Return C, D and E from legs and angle, each with its slopes for leg A, leg B and the included angle."""
    a, b, included = readings.leg_a, readings.leg_b, readings.included
    closing = distance_with_slopes(a, b, included)
    d, _, d_b, d_g = distance_with_slopes(mark, b, included)
    return closing, (d, 0.0, d_b, d_g), distance_with_slopes(a - mark, b, included)


def absorb(rows: list[Row], variances: Three, check_variance: float) -> tuple[Three, Six, float]:
    """Take in one linear check after the other: each row is its slopes for A, B and the angle, then what is left over.

    Returns the corrections to A, B and the angle, their covariance, and the weighted sum of squares. The checks are
    independent, so this equals the normal equations without a matrix to invert. Source: sequential least squares.

    >>> absorb([(1.0, 0.0, 0.0, 2.0)], (1.0, 1.0, 1.0), 1.0)
    ((1.0, 0.0, 0.0), (0.5, 1.0, 1.0, 0.0, 0.0, 0.0), 2.0)
    """
    x, y, z = 0.0, 0.0, 0.0
    (xx, yy, zz), xy, xz, yz = variances, 0.0, 0.0, 0.0
    statistic = 0.0
    for a, b, g, left_over in rows:
        with_x, with_y, with_z = xx * a + xy * b + xz * g, xy * a + yy * b + yz * g, xz * a + yz * b + zz * g
        variance = a * with_x + b * with_y + g * with_z + check_variance
        new = left_over - a * x - b * y - g * z
        gain_x, gain_y, gain_z = with_x / variance, with_y / variance, with_z / variance
        x, y, z = x + gain_x * new, y + gain_y * new, z + gain_z * new
        xx, yy, zz = xx - gain_x * with_x, yy - gain_y * with_y, zz - gain_z * with_z
        xy, xz, yz = xy - gain_x * with_y, xz - gain_x * with_z, yz - gain_y * with_z
        statistic += new * new / variance
    return (x, y, z), (xx, yy, zz, xy, xz, yz), statistic


def variances_of(sigmas: MeasuringSigmas) -> Three:
    """Return the variances of leg A, leg B (mm2) and the included angle (radians squared)."""
    return sigmas.tape_mm**2, sigmas.tape_mm**2, radians(sigmas.protractor_deg) ** 2


def adjust(readings: Readings, *, mark: float, variances: Three, check_variance: float) -> Adjusted:
    """Adjust legs and included angle to all check measures taken, by weighted least squares.

    Args: ``readings`` in mm and radians; ``mark`` the 12 in of D and E, in mm; the variances of leg A, leg B, included
    angle and of one check measure (mm2, radians squared).
    Returns the adjusted numbers; with no check measure they are the readings themselves. Slopes are renewed at the new
    point each round. Source: least squares, conditions re-linearized (Gauss-Newton).

    >>> read = Readings(914.4, 609.6, radians(135), (1415.0, None, None))
    >>> made = adjust(read, mark=304.8, variances=variances_of(USUAL_SIGMAS), check_variance=4.0)
    >>> round(made.leg_a_mm, 2), round(made.included_deg, 2)
    (914.77, 135.19)
    """
    start = (readings.leg_a, readings.leg_b, readings.included)
    point, statistic = start, 0.0
    spread: Six = (*variances, 0.0, 0.0, 0.0)
    for _ in range(ROUNDS):
        rows = _rows(Readings(*point, readings.taken), start, mark)
        moved, spread, statistic = absorb(rows, variances, check_variance)
        before, point = point, (start[0] + moved[0], start[1] + moved[1], start[2] + moved[2])
        if abs(point[0] - before[0]) + abs(point[1] - before[1]) < SETTLED_MM and abs(point[2] - before[2]) < 1e-9:
            break
    return Adjusted(
        leg_a_mm=point[0],
        leg_b_mm=point[1],
        included_deg=degrees(point[2]),
        sigma_a_mm=sqrt(max(spread[0], 0.0)),  # a reading set free ends within rounding of nothing
        sigma_b_mm=sqrt(max(spread[1], 0.0)),
        sigma_included_deg=degrees(sqrt(max(spread[2], 0.0))),
        covariance=(
            spread[0],
            spread[1],
            degrees(degrees(spread[2])),
            spread[3],
            degrees(spread[4]),
            degrees(spread[5]),
        ),
        statistic=statistic,
        checks=sum(measured is not None for measured in readings.taken),
    )


def adjusted_reading(measured: CheckInput) -> Adjusted:
    """Adjust one tie-in as measured, with its own sigmas."""
    return adjust(
        readings_of(measured),
        mark=measured.mark_mm,
        variances=variances_of(measured.sigmas),
        check_variance=measured.sigmas.closing_mm**2,
    )


def _rows(here: Readings, start: Three, mark: float) -> list[Row]:
    """Return each check taken as slopes at ``here`` and what it leaves over at ``start``."""
    back = (start[0] - here.leg_a, start[1] - here.leg_b, start[2] - here.included)
    rows = []
    for (value, a, b, g), measured in zip(computed_checks(here, mark), here.taken, strict=True):
        if measured is not None:
            rows.append((a, b, g, measured - value - a * back[0] - b * back[1] - g * back[2]))
    return rows
