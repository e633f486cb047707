"""Rolling offsets, and two fittings rolled against each other: two bends in their simplest forms."""

from dataclasses import dataclass
from math import acos, atan2, cos, degrees, hypot, radians, sin, tan


@dataclass(frozen=True, slots=True, kw_only=True)
class RollingOffset:
    """The sides of a rolling offset, mm and degrees: ``travel_mm`` center to center, ``run_mm`` along the pipe."""

    true_offset_mm: float
    travel_mm: float
    run_mm: float
    roll_deg: float


def rolling_offset(*, set_mm: float, roll_mm: float, turn_deg: float) -> RollingOffset:
    """Return the rolling offset with two equal turns, 0 < turn <= 90 degrees.

    Raises ValueError for a turn outside that. Source: Pythagoras; travel = true offset / sin, run = / tan.

    >>> offset = rolling_offset(set_mm=30.625, roll_mm=17.625, turn_deg=45)
    >>> round(offset.true_offset_mm, 4), round(offset.travel_mm, 4), round(offset.roll_deg, 4)
    (35.3346, 49.9706, 29.9209)
    """
    if not 0.0 < turn_deg <= 90.0:
        raise ValueError("The fittings of an offset turn more than 0 and at most 90 degrees, such as 45.")
    true_offset = hypot(set_mm, roll_mm)
    return RollingOffset(
        true_offset_mm=true_offset,
        travel_mm=true_offset / sin(radians(turn_deg)),
        run_mm=true_offset / tan(radians(turn_deg)),
        roll_deg=degrees(atan2(roll_mm, set_mm)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RolledPair:
    """Two fittings rolled against each other: the turn they make together, and how far the outer axes then miss."""

    turn_deg: float
    axes_miss_mm: float


def rolled_pair(*, turn_1_deg: float, turn_2_deg: float, twist_deg: float, middle_mm: float) -> RolledPair:
    """Return what two fittings make, ``middle_mm`` between their centers, one rolled by the twist.

    The axes miss each other, so a rolled pair never replaces one trimmed elbow on a jig reading.
    Source: cos d = cos d1 cos d2 - sin d1 sin d2 cos t; miss = m sin d1 sin d2 sin t / sin d.

    >>> pair = rolled_pair(turn_1_deg=45, turn_2_deg=45, twist_deg=90, middle_mm=12)
    >>> round(pair.turn_deg, 3), round(pair.axes_miss_mm, 2)
    (60.0, 6.93)
    """
    one, two, twist = radians(turn_1_deg), radians(turn_2_deg), radians(twist_deg)
    turn = acos(min(max(cos(one) * cos(two) - sin(one) * sin(two) * cos(twist), -1.0), 1.0))
    if sin(turn) < 1e-9:
        return RolledPair(turn_deg=degrees(turn), axes_miss_mm=abs(middle_mm * sin(one)))
    return RolledPair(
        turn_deg=degrees(turn), axes_miss_mm=abs(middle_mm * sin(one) * sin(two) * sin(twist) / sin(turn))
    )
