"""From space to paper: which way one looks, at what scale, and what of a round pipe is then seen."""

from dataclasses import dataclass
from math import cos, pi, sin

from geometry.centerline import Vector, crossed
from geometry.drawing.body import Stretch
from geometry.drawing.shapes import Point

_RIM_POINTS = 48


@dataclass(frozen=True, slots=True)
class View:
    """A parallel projection.

    ``right`` and ``up`` are the unit vectors that lie along the paper's edges; ``scale`` is paper mm per mm;
    ``origin`` is where the space's origin falls on paper.
    """

    right: Vector
    up: Vector
    scale: float = 1.0
    origin: Point = (0.0, 0.0)

    @property
    def toward(self) -> Vector:
        """The unit vector from the paper toward the eye."""
        return crossed(self.right, self.up)

    def at(self, point: Vector) -> Point:
        """Return where a point falls on paper."""
        return (
            self.origin[0] + self.scale * dot(point, self.right),
            self.origin[1] + self.scale * dot(point, self.up),
        )

    def depth(self, point: Vector) -> float:
        """Return how near the eye a point lies."""
        return dot(point, self.toward)


def dot(u: Vector, v: Vector) -> float:
    """Return the dot product of two vectors."""
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def silhouette(stretch: Stretch, view: View, radius_mm: float) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Return the two outlines of a stretch on paper, left and right of the flow.

    A tube's outline is the line at one radius beside its center line, square to the view; at a miter it ends on the
    miter's plane.
    """
    left: list[Point] = []
    right: list[Point] = []
    last = len(stretch.points) - 1
    for k, (point, along) in enumerate(zip(stretch.points, stretch.alongs, strict=True)):
        side = _unit(crossed(view.toward, along))
        face = stretch.face_1 if k == 0 else stretch.face_2 if k == last else along
        for sign, line in ((1.0, left), (-1.0, right)):
            off = (sign * radius_mm * side[0], sign * radius_mm * side[1], sign * radius_mm * side[2])
            line.append(view.at(_on_face(point, off, along, face)))
    return tuple(left), tuple(right)


def rim(
    point: Vector, along: Vector, face: Vector, view: View, radius_mm: float, *, front_only: bool
) -> tuple[Point, ...]:
    """Return the edge of a cut face on paper: the whole ring, or only the half that the eye sees."""
    side = _unit(crossed(view.toward, along))
    front = crossed(along, side)
    if dot(front, view.toward) < 0.0:
        front = (-front[0], -front[1], -front[2])
    span, first = (pi, 0.0) if front_only else (2.0 * pi, 0.0)
    ring = []
    for k in range(_RIM_POINTS + 1):
        c, s = cos(first + span * k / _RIM_POINTS), sin(first + span * k / _RIM_POINTS)
        off = (
            radius_mm * (c * side[0] + s * front[0]),
            radius_mm * (c * side[1] + s * front[1]),
            radius_mm * (c * side[2] + s * front[2]),
        )
        ring.append(view.at(_on_face(point, off, along, face)))
    return _thinned(tuple(ring))


def _on_face(point: Vector, off: Vector, along: Vector, face: Vector) -> Vector:
    """Shift a point of the pipe's skin along the pipe until it lies in the face's plane."""
    shift = -dot(off, face) / dot(along, face)
    return (
        point[0] + off[0] + shift * along[0],
        point[1] + off[1] + shift * along[1],
        point[2] + off[2] + shift * along[2],
    )


def _thinned(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return a ring that is seen edge-on as the two points of its line."""
    (x1, y1), (x2, y2) = ring[0], ring[len(ring) // 2] if ring[0] == ring[-1] else ring[-1]
    dx, dy = x2 - x1, y2 - y1
    size = (dx * dx + dy * dy) ** 0.5
    if size and all(abs((x - x1) * dy - (y - y1) * dx) < 0.02 * size for x, y in ring):
        return ((x1, y1), (x2, y2))
    return ring


def _unit(v: Vector) -> Vector:
    size = dot(v, v) ** 0.5
    if size < 1e-9:
        return (1.0, 0.0, 0.0)  # the pipe points at the eye: any side will do
    return (v[0] / size, v[1] / size, v[2] / size)
