"""Legs, turns and twists laid out in space: the one model of every spool.

Frame: end A at the origin, flow along +x, the first turn toward +y (about +z). A twist rolls the next bend about the
pipe before it, right-hand along the flow from A: 0 turns the same way again, 180 makes a flat offset.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, isfinite, radians, sin, tan
from typing import Literal

Vector = tuple[float, float, float]


class CenterlineError(ValueError):
    """Legs, turns and twists that don't make a center line; the message says what to give."""


@dataclass(frozen=True, slots=True)
class CenterlineRequest:
    """A center line of n legs, n-1 turns and n-2 twists, from end A to end B.

    ``legs_mm`` run from end A to the first PI, from PI to PI, and from the last PI to end B. ``turns_deg`` are changes
    of direction (180 - included). ``twists_deg`` say how far each bend after the first is rolled.

    Raises:
        CenterlineError: counts don't match, a leg is not above zero, a turn is not above 0 and below 180.

    """

    legs_mm: tuple[float, ...]
    turns_deg: tuple[float, ...] = ()
    twists_deg: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what can't be laid out."""
        turns = len(self.turns_deg)
        if len(self.legs_mm) != turns + 1 or len(self.twists_deg) != max(turns - 1, 0):
            raise CenterlineError(
                f"{len(self.legs_mm)} legs, {turns} turns and {len(self.twists_deg)} twists don't make a center line: "
                "n legs need n-1 turns and n-2 twists."
            )
        if not all(0.0 < leg < 1e6 for leg in self.legs_mm):
            raise CenterlineError("Every leg must be longer than zero and shorter than 1 km: read it again.")
        if not all(0.0 < turn < 180.0 for turn in self.turns_deg):
            raise CenterlineError("Every turn must be above 0 and below 180 degrees; leave out a turn of 0.")
        if not all(isfinite(twist) for twist in self.twists_deg):
            raise CenterlineError(
                "Every twist must be a number of degrees: 0 turns the same way, 180 is a flat offset."
            )


@dataclass(frozen=True, slots=True)
class Frame:
    """A place on the center line: the point, the way the flow goes, and the axis about which the next bend turns."""

    point: Vector = (0.0, 0.0, 0.0)
    along: Vector = (1.0, 0.0, 0.0)
    axis: Vector = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Step:
    """One stretch of a walk along the finished spool.

    ``kind`` is ``pipe`` or ``gap`` (straight on), ``arc`` (a bend of ``radius_mm``), ``kink`` (a miter's turn at a
    point) or ``twist`` (the next bend is rolled). ``piece`` is the mark of the piece walked on, "" in a gap.
    """

    kind: Literal["pipe", "gap", "arc", "kink", "twist"]
    length_mm: float = 0.0
    degrees: float = 0.0
    radius_mm: float = 0.0
    piece: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """A center line in space: end A, every PI, end B, and the frame in which each leg starts."""

    points: tuple[Vector, ...]
    frames: tuple[Frame, ...]


def moved(point: Vector, along: Vector, length_mm: float) -> Vector:
    """Return the point ``length_mm`` further along a unit vector."""
    return (point[0] + along[0] * length_mm, point[1] + along[1] * length_mm, point[2] + along[2] * length_mm)


def crossed(u: Vector, v: Vector) -> Vector:
    """Return the cross product of two vectors."""
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def distance_mm(p: Vector, q: Vector) -> float:
    """Return the straight distance between two points.

    >>> distance_mm((0.0, 0.0, 0.0), (3.0, 4.0, 12.0))
    13.0
    """
    return hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2])


def turned(frame: Frame, turn_deg: float) -> Frame:
    """Return the frame with the flow turned about the bend's axis, the point unmoved."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    u, v = frame.along, crossed(frame.axis, frame.along)
    return Frame(frame.point, (u[0] * c + v[0] * s, u[1] * c + v[1] * s, u[2] * c + v[2] * s), frame.axis)


def twisted(frame: Frame, twist_deg: float) -> Frame:
    """Return the frame with the next bend's axis rolled about the flow, right-hand, the point unmoved."""
    c, s = cos(radians(twist_deg)), sin(radians(twist_deg))
    w, v = frame.axis, crossed(frame.along, frame.axis)
    return Frame(frame.point, frame.along, (w[0] * c + v[0] * s, w[1] * c + v[1] * s, w[2] * c + v[2] * s))


def stepped(frame: Frame, step: Step) -> Frame:
    """Return the frame at the far end of one step."""
    if step.kind in {"pipe", "gap"}:
        return Frame(moved(frame.point, frame.along, step.length_mm), frame.along, frame.axis)
    if step.kind == "twist":
        return twisted(frame, step.degrees)
    after = turned(frame, step.degrees)
    if step.kind == "kink":
        return after
    reach = step.radius_mm * tan(radians(step.degrees / 2.0))
    corner = moved(frame.point, frame.along, reach)
    return Frame(moved(corner, after.along, reach), after.along, after.axis)


def walk(steps: Iterable[Step], *, start: Frame | None = None) -> tuple[Frame, ...]:
    """Walk along a spool and return the frame at its start and after every step.

    Args: the steps from end A; ``start``, the frame of end A (the module's own frame when left out).

    >>> end = walk([Step("pipe", 300.0), Step("arc", degrees=90.0, radius_mm=100.0), Step("pipe", 200.0)])[-1]
    >>> tuple(round(value, 9) for value in end.point)
    (400.0, 300.0, 0.0)
    """
    frames = [start or Frame()]
    for step in steps:
        frames.append(stepped(frames[-1], step))
    return tuple(frames)


def lay_out(line: CenterlineRequest) -> Layout:
    """Place end A, every PI and end B of a center line in space.

    Returns: n+1 points for n legs, and the frame in which each leg starts (its bend axis is that of the bend at the
    leg's far end). Source: rotation of a frame about its own axes.

    >>> flat_offset = lay_out(CenterlineRequest((100.0, 100.0, 100.0), (90.0, 90.0), (180.0,)))
    >>> tuple(round(value, 9) for value in flat_offset.points[-1])
    (200.0, 100.0, 0.0)
    """
    frame = Frame()
    points, frames = [frame.point], [frame]
    twists: Sequence[float] = (*line.twists_deg, 0.0)
    for index, leg in enumerate(line.legs_mm):
        at = moved(frame.point, frame.along, leg)
        points.append(at)
        if index < len(line.turns_deg):
            frame = turned(Frame(at, frame.along, frame.axis), line.turns_deg[index])
            frame = twisted(frame, twists[index]) if twists[index] else frame
            frames.append(frame)
    return Layout(tuple(points), tuple(frames))


def is_straight(included_deg: float) -> bool:
    """Tell whether an included angle, in degrees, is 180 but for the arithmetic of a reading: straight pipe, no bend.

    >>> is_straight(180.0 - 1e-10), is_straight(179.9)
    (True, False)
    """
    return abs(included_deg - 180.0) <= 1e-9


def closing_mm(leg_a_mm: float, leg_b_mm: float, *, included_deg: float) -> float:
    """Return C, the straight distance between the far ends of two legs.

    Args: legs from the PI in mm; the included angle in degrees. Source: law of cosines in the form
    C^2 = (A - B)^2 + 4AB sin^2(g/2), which keeps its digits near 180 and near equal legs.

    >>> round(closing_mm(36.0, 24.0, included_deg=135.0), 4)
    55.6227
    """
    half = sin(radians(included_deg / 2.0))
    return hypot(leg_a_mm - leg_b_mm, 2.0 * half * (leg_a_mm * leg_b_mm) ** 0.5)
