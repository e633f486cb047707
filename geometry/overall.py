"""The finished spool in space: every PI, weld and end, the box it fits in, its longest piece and center of gravity."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, radians, sin, sqrt

from geometry.centerline import CenterlineRequest, Frame, Step, Vector, crossed, lay_out, moved, turned, walk
from geometry.spool import SpoolAnswer
from geometry.tables import PipeRow


@dataclass(frozen=True, slots=True)
class SpoolPoint:
    """A named point: ``end A``, ``PI 1``, ``weld 1``, ``end B``, in the frame of the center line (mm)."""

    name: str
    point: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Overall:
    """A finished spool as the truck and the kettle see it.

    ``box_mm`` are length, width and height over the pipe's outside, longest first, lying along one of its legs or
    from end to end, whichever takes the least room. ``longest_piece_mm`` is the longest bar it is cut from.
    ``center_of_gravity`` is in the frame of the center line; flanges and couplings aren't weighed.
    """

    points: tuple[SpoolPoint, ...]
    box_mm: Vector
    longest_piece_mm: float
    center_of_gravity: Vector


def overall(answer: SpoolAnswer, pipe: PipeRow) -> Overall:
    """Lay a spool that can be built out in space.

    Args: the answer of ``build`` or ``build_chain``; its pipe, for the outside diameter.
    Raises: ValueError where the spool can't be built, so that nobody loads a spool that isn't one.
    Source: geometry; the arc's center of mass at (R + (ro^2 + ri^2) / 4R) sin h / h from the bend's center.
    """
    if not answer.buildable:
        raise ValueError("This spool can't be built, so it has no size: see its findings.")
    frames = walk(answer.steps)
    return Overall(
        points=spool_points(answer),
        box_mm=_box_mm(answer.steps, frames, radius_mm=pipe.od_mm / 2.0),
        longest_piece_mm=max((piece.stock_length_mm for piece in answer.pieces), default=0.0),
        center_of_gravity=_center_of_gravity(answer.steps, frames, pipe),
    )


def spool_points(answer: SpoolAnswer) -> tuple[SpoolPoint, ...]:
    """Return end A, every PI and weld in order, and end B. A weld's point is the middle of its gap."""
    frames = walk(answer.steps)
    points = [SpoolPoint("end A", frames[0].point)]
    welds = 0
    inner = [index for index, step in enumerate(answer.steps) if step.piece]
    for index, step in enumerate(answer.steps):
        between = inner[0] < index < inner[-1]
        if step.kind == "kink" or (step.kind == "gap" and between and not _beside_kink(answer.steps, index)):
            welds += 1
            middle = moved(frames[index].point, frames[index].along, step.length_mm / 2.0)
            points.append(SpoolPoint(f"weld {welds}", middle))
    points += [SpoolPoint(f"PI {number}", point) for number, point in enumerate(_corners(answer), start=1)]
    return (*points, SpoolPoint("end B", frames[-1].point))


def _beside_kink(steps: Sequence[Step], index: int) -> bool:
    """Tell whether a gap is half of a miter's; the roll of a bend may stand between."""
    solid = [number for number, step in enumerate(steps) if step.kind != "twist"]
    here = solid.index(index)
    return any(
        steps[number].kind == "kink" for number in (*solid[max(here - 1, 0) : here], *solid[here + 1 : here + 2])
    )


def _corners(answer: SpoolAnswer) -> tuple[Vector, ...]:
    """Return every PI, laid out on the legs to the finished ends."""
    line = CenterlineRequest(answer.finished_legs_mm, answer.turns_deg, answer.twists_deg)
    return lay_out(line).points[1:-1]


def _box_mm(steps: Sequence[Step], frames: Sequence[Frame], *, radius_mm: float) -> Vector:
    """Return the smallest of the boxes that lie along a leg or along the line from end to end."""
    ways = [frame.along for frame, step in zip(frames, steps, strict=False) if step.kind == "pipe"]
    chord = tuple(b - a for a, b in zip(frames[0].point, frames[-1].point, strict=True))
    if hypot(*chord) > 1e-6:
        ways.append(_unit((chord[0], chord[1], chord[2])))
    ways, uprights = _distinct(ways), _distinct([frame.axis for frame in frames])
    if len(uprights) > 1:  # not flat: a box may also lie on two of its legs
        uprights += ways
    best: Vector | None = None
    for way in ways:
        for upright in uprights:
            across = crossed(upright, way)
            if hypot(*across) < 1e-9:
                continue
            side = _unit(across)
            axes = (way, side, crossed(way, side))
            size = sorted((_extent(steps, frames, axis, radius_mm) for axis in axes), reverse=True)
            if best is None or size[0] * size[1] * size[2] < best[0] * best[1] * best[2] - 1e-6:
                best = (size[0], size[1], size[2])
    if best is None:
        raise ValueError("A spool without pipe has no box.")
    return best


def _distinct(vectors: Sequence[Vector]) -> list[Vector]:
    """Return vectors once each, taking those that differ by a float's noise for one."""
    return list({(round(x, 9), round(y, 9), round(z, 9)): (x, y, z) for x, y, z in vectors}.values())


def _extent(steps: Sequence[Step], frames: Sequence[Frame], axis: Vector, radius_mm: float) -> float:
    """Return how far the pipe's outside reaches along a unit vector, exactly.

    The edge of a pipe reaches radius x sin(between pipe and vector) past its center line; along an arc it is largest
    at the arc's ends or where the pipe runs square to the vector. Source: geometry.
    """
    low, high = float("inf"), float("-inf")
    for frame in (frame for pair in zip(frames, steps, strict=False) for frame in _turning_points(*pair, axis)):
        at = _dot(frame.point, axis)
        reach = radius_mm * sqrt(max(1.0 - _dot(frame.along, axis) ** 2, 0.0))
        low, high = min(low, at - reach), max(high, at + reach)
    last = frames[-1]
    at, reach = _dot(last.point, axis), radius_mm * sqrt(max(1.0 - _dot(last.along, axis) ** 2, 0.0))
    return max(high, at + reach) - min(low, at - reach)


def _turning_points(frame: Frame, step: Step, axis: Vector) -> Iterator[Frame]:
    """Yield the start of a step, and the places inside an arc where the pipe runs square to the vector."""
    yield frame
    if step.kind == "kink":
        yield turned(frame, step.degrees)
    if step.kind != "arc":
        return
    out = crossed(frame.axis, frame.along)
    square = atan2(-_dot(frame.along, axis), _dot(out, axis))  # along cos t + out sin t is square to the vector
    for way_rad in (square, square + pi, square - pi):
        if 0.0 < way_rad < radians(step.degrees):
            yield _on_arc(frame, step.radius_mm, way_rad)


def _on_arc(frame: Frame, radius_mm: float, way_rad: float) -> Frame:
    out = crossed(frame.axis, frame.along)
    at = moved(frame.point, frame.along, radius_mm * sin(way_rad))
    at = moved(at, out, radius_mm * (1.0 - cos(way_rad)))
    along = tuple(a * cos(way_rad) + o * sin(way_rad) for a, o in zip(frame.along, out, strict=True))
    return Frame(at, (along[0], along[1], along[2]), frame.axis)


def _center_of_gravity(steps: Sequence[Step], frames: Sequence[Frame], pipe: PipeRow) -> Vector:
    total, sums = 0.0, [0.0, 0.0, 0.0]
    for before, step in zip(frames, steps, strict=False):
        if not step.piece:
            continue
        length_mm = step.length_mm
        middle = moved(before.point, before.along, step.length_mm / 2.0)
        if step.kind == "arc":
            length_mm = step.radius_mm * radians(step.degrees)
            middle = _arc_center_of_mass(before, step, pipe)
        total += length_mm
        sums = [have + length_mm * value for have, value in zip(sums, middle, strict=True)]
    return (sums[0] / total, sums[1] / total, sums[2] / total)


def _arc_center_of_mass(frame: Frame, step: Step, pipe: PipeRow) -> Vector:
    half = radians(step.degrees / 2.0)
    spread = (pipe.od_mm**2 + pipe.id_mm**2) / 16.0 / step.radius_mm
    from_center = (step.radius_mm + spread) * sin(half) / half
    center = moved(frame.point, crossed(frame.axis, frame.along), step.radius_mm)
    middle = _on_arc(frame, step.radius_mm, half).point
    outward = _unit((middle[0] - center[0], middle[1] - center[1], middle[2] - center[2]))
    return moved(center, outward, from_center)


def _dot(u: Vector, v: Vector) -> float:
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def _unit(u: Vector) -> Vector:
    size = hypot(*u)
    return (u[0] / size, u[1] / size, u[2] / size)
