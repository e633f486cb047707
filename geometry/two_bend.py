"""Two bends between two ports that no single bend can join: turns, twist and three legs, proved by walking them."""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from geometry.centerline import CenterlineRequest, Frame, Step, distance_mm, moved, walk
from geometry.vectors import Vector, apart, crossed, dotted, length_of, unit

PARALLEL = 1e-9
SAME_TURN_DEG = 1e-6
CLOSES_MM = 1e-6  # a walked spool must end this near its port


@dataclass(frozen=True, slots=True)
class Port:
    """Where a spool begins: a point in mm, and the unit vector from the existing pipe into the spool."""

    point: Vector
    along: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoBend:
    """A spool of three legs, from port A to the first PI, to the second PI, to port B.

    ``twist_deg`` rolls the second bend about the middle pipe, right-hand along the flow from A: 0 turns the same way
    again, 180 makes a flat offset. ``off_mm`` is how far the walked spool ends from port B.
    """

    leg_a_mm: float
    middle_mm: float
    leg_b_mm: float
    turn_1_deg: float
    turn_2_deg: float
    twist_deg: float
    off_mm: float

    @property
    def line(self) -> CenterlineRequest:
        """Return the center line to build."""
        legs = (self.leg_a_mm, self.middle_mm, self.leg_b_mm)
        return CenterlineRequest(legs, (self.turn_1_deg, self.turn_2_deg), (self.twist_deg,))


def two_bends_with_turns(
    a: Port, b: Port, *, turn_1_deg: float, turn_2_deg: float, least_leg_mm: float = 0.0
) -> tuple[TwoBend, ...]:
    """Return the spools that join two ports with two given turns: none, one or two.

    Args: ports, turns in degrees between 0 and 180 (a fitting's own, such as 45 and 45); ``least_leg_mm``, the shorter
    outer leg where the geometry leaves it free (a U of two 90s).
    Source: the middle direction m is alpha u1 + beta w +- gamma u1 x w, w the way out at B, from m.u1 = cos t1 and
    m.w = cos t2; the legs from p2 - p1 = L1 u1 + L2 m + L3 w. Every spool is walked and compared with port B and
    with the turns that were asked for.
    For ports in one plane the middle leg is given by the offset, and what is left is shared by the outer legs.

    >>> one = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    >>> other = Port((300.0, 100.0, 0.0), (-1.0, 0.0, 0.0))
    >>> offset = two_bends_with_turns(one, other, turn_1_deg=45, turn_2_deg=45)[0]
    >>> round(offset.middle_mm, 4), round(offset.leg_a_mm, 4), round(abs(offset.twist_deg), 4)
    (141.4214, 100.0, 180.0)
    """
    out = (-b.along[0], -b.along[1], -b.along[2])
    given = (turn_1_deg, turn_2_deg)
    found = []
    for middle in _middles(a.along, out, apart(a.point, b.point), radians(turn_1_deg), radians(turn_2_deg)):
        legs = _legs(apart(a.point, b.point), a.along, middle, out, least_leg_mm)
        if legs is not None and min(legs) > 0.0:
            first, second = moved(a.point, a.along, legs[0]), moved(b.point, b.along, legs[2])
            made = spool_through(a, b, first, second)
            if made is not None and made.off_mm < CLOSES_MM * max(1.0, sum(legs) / 1e3) and _turns_are(made, given):
                found.append(made)
    return tuple(sorted(found, key=lambda one: one.leg_a_mm + one.middle_mm + one.leg_b_mm))


def spool_through(a: Port, b: Port, first_pi: Vector, second_pi: Vector) -> TwoBend | None:
    """Return the spool from port A through two PIs to port B, walked from A; None where it does not turn twice.

    The PIs must lie on the ports' own axes. The twist is the signed roll from the first bend's axis to the second's
    about the middle pipe; the walk says whether its sign is right.
    """
    out = (-b.along[0], -b.along[1], -b.along[2])
    middle_mm = distance_mm(first_pi, second_pi)
    if middle_mm == 0.0:
        return None
    middle = unit(apart(first_pi, second_pi))
    axis_1, axis_2 = crossed(a.along, middle), crossed(middle, out)
    if length_of(axis_1) < PARALLEL or length_of(axis_2) < PARALLEL:
        return None
    turn_1 = degrees(atan2(length_of(axis_1), dotted(a.along, middle)))
    turn_2 = degrees(atan2(length_of(axis_2), dotted(middle, out)))
    twist = degrees(atan2(dotted(crossed(axis_1, axis_2), middle), dotted(axis_1, axis_2)))
    leg_a, leg_b = distance_mm(a.point, first_pi), distance_mm(second_pi, b.point)
    steps = (
        Step("pipe", leg_a),
        Step("kink", degrees=turn_1),
        Step("twist", degrees=twist),
        Step("pipe", middle_mm),
        Step("kink", degrees=turn_2),
        Step("pipe", leg_b),
    )
    end = walk(steps, start=Frame(a.point, a.along, unit(axis_1)))[-1]
    lever = leg_a + middle_mm + leg_b
    return TwoBend(
        leg_a_mm=leg_a,
        middle_mm=middle_mm,
        leg_b_mm=leg_b,
        turn_1_deg=turn_1,
        turn_2_deg=turn_2,
        twist_deg=twist,
        off_mm=hypot(distance_mm(end.point, b.point), lever * length_of(apart(end.along, out))),
    )


def _turns_are(made: TwoBend, given: tuple[float, float]) -> bool:
    """Tell whether a spool turns as given: ports out of the plane of given turns are reached by other turns only."""
    turns = (made.turn_1_deg, made.turn_2_deg)
    return all(abs(turn - wanted) < SAME_TURN_DEG for turn, wanted in zip(turns, given, strict=True))


def _middles(along: Vector, out: Vector, across: Vector, turn_1: float, turn_2: float) -> list[Vector]:
    """Return the unit directions of the middle pipe that make both turns."""
    normal = crossed(along, out)
    squared = dotted(normal, normal)
    if squared < PARALLEL**2:
        return _middles_of_parallel(along, out, across, turn_1, turn_2)
    between = dotted(along, out)
    one, two = cos(turn_1), cos(turn_2)
    alpha, beta = (one - between * two) / squared, (two - between * one) / squared
    left = (1.0 - alpha * alpha - beta * beta - 2.0 * alpha * beta * between) / squared
    if left < -1e-12:
        return []
    gamma = sqrt(max(left, 0.0))
    signs = (gamma, -gamma) if gamma > 0.0 else (0.0,)
    return [
        (
            alpha * along[0] + beta * out[0] + sign * normal[0],
            alpha * along[1] + beta * out[1] + sign * normal[1],
            alpha * along[2] + beta * out[2] + sign * normal[2],
        )
        for sign in signs
    ]


def _middles_of_parallel(along: Vector, out: Vector, across: Vector, turn_1: float, turn_2: float) -> list[Vector]:
    """Return the middle direction between parallel ports: in the plane of the axis and the offset."""
    same_way = dotted(along, out) > 0.0
    if abs(turn_1 - (turn_2 if same_way else radians(180.0) - turn_2)) > 1e-9:
        return []
    forward = dotted(across, along)
    side = (across[0] - forward * along[0], across[1] - forward * along[1], across[2] - forward * along[2])
    if length_of(side) == 0.0:
        return []
    side = unit(side)
    c, s = cos(turn_1), sin(turn_1)
    return [(c * along[0] + s * side[0], c * along[1] + s * side[1], c * along[2] + s * side[2])]


def _legs(across: Vector, along: Vector, middle: Vector, out: Vector, least_leg_mm: float) -> Vector | None:
    """Solve across = L1 along + L2 middle + L3 out."""
    volume = dotted(crossed(along, middle), out)
    if abs(volume) < 1e-12:
        return _legs_in_plane(across, along, middle, out, least_leg_mm)
    return (
        dotted(crossed(across, middle), out) / volume,
        dotted(crossed(along, across), out) / volume,
        dotted(crossed(along, middle), across) / volume,
    )


def _legs_in_plane(across: Vector, along: Vector, middle: Vector, out: Vector, least_leg_mm: float) -> Vector | None:
    """Solve the same in one plane, where one leg is free: equal outer legs, or the least leg where they run back."""
    normal = crossed(along, middle)
    if length_of(normal) < PARALLEL:
        return None
    normal = unit(normal)

    def turning(u: Vector, v: Vector) -> float:
        return dotted(crossed(u, v), normal)

    bent = turning(along, middle)
    first, second = turning(across, middle) / bent, turning(along, across) / bent
    free = (turning(middle, out), turning(out, along), bent)  # legs that add up to nothing
    if abs(free[2] - free[0]) > 1e-9:
        share = first / (free[2] - free[0])
    else:
        share = max(least_leg_mm / free[2], (least_leg_mm - first) / free[0])
    return first + share * free[0], second + share * free[1], share * free[2]
