"""A spool on its way to paper: the body in space, the view chosen for it, and the sheet that is being filled."""

from dataclasses import dataclass
from math import atan2, hypot, pi

from geometry.centerline import Vector, lay_out
from geometry.drawing.body import Body, lay_body
from geometry.drawing.boxes import stroke_box, touching
from geometry.drawing.description import DrawingError, SpoolDrawing
from geometry.drawing.placing import Sheet
from geometry.drawing.shapes import Point
from geometry.drawing.view import View


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What every part of a spool's drawing needs; ``points`` are end A, the PIs and end B of the center line."""

    spool: SpoolDrawing
    body: Body
    points: tuple[Vector, ...]
    view: View
    sheet: Sheet
    size: float

    @property
    def half_mm(self) -> float:
        """Half the pipe's outside diameter on paper."""
        return self.spool.od_mm / 2 * self.view.scale

    def paper(self) -> tuple[Point, ...]:
        """Return the center line's points on paper."""
        return tuple(self.view.at(p) for p in self.points)

    def covered(self, point: Point) -> bool:
        """Tell whether the pipe covers a point of the paper."""
        return touching(stroke_box(point, point, width_mm=0.05), self.sheet.bodies, most=1) > 0

    def leaves_paper(self) -> bool:
        """Tell whether any leg is seen shorter than it is."""
        paper = self.paper()
        return any(
            paper_distance(paper[k], paper[k + 1]) < leg * self.view.scale * (1.0 - 1e-9)
            for k, leg in enumerate(self.spool.line.legs_mm)
        )


def body_and_points(spool: SpoolDrawing) -> tuple[Body, tuple[Vector, ...]]:
    """Return the spool in space and its center line's points.

    Raises:
        DrawingError: the spool has no pieces to draw.
    """
    if not any(step.piece for step in spool.steps):
        raise DrawingError(f"Spool {spool.mark} has no pieces: mend what its findings say, then draw it.")
    return lay_body(spool.steps), lay_out(spool.line).points


def direction_deg(start: Point, end: Point) -> float:
    """Return the direction from one point to another, in degrees."""
    return atan2(end[1] - start[1], end[0] - start[0]) * 180.0 / pi


def paper_distance(start: Point, end: Point) -> float:
    """Return the distance between two points of the paper."""
    return hypot(end[0] - start[0], end[1] - start[1])


def finished_ends(spool: SpoolDrawing, body: Body) -> tuple[Vector, Vector]:
    """Return where the finished ends are: past the pipe by a flange's face, or back at a saddle's wall."""
    a, b = body.end_a, body.end_b
    return (
        _shifted(a.point, a.along, -spool.end_a.beyond_mm),
        _shifted(b.point, b.along, spool.end_b.beyond_mm),
    )


def _shifted(point: Vector, along: Vector, length: float) -> Vector:
    return (point[0] + along[0] * length, point[1] + along[1] * length, point[2] + along[2] * length)
