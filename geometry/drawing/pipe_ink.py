"""Draws a pipe's body on paper: both outlines, the bore, the center line, welds and cut faces, nearest last."""

from collections.abc import Iterator
from itertools import pairwise

from geometry.centerline import Frame
from geometry.drawing.body import Body, Stretch
from geometry.drawing.boxes import Box, stroke_box
from geometry.drawing.shapes import Point, Polyline, Shape
from geometry.drawing.view import View, dot, rim, silhouette

_LEAST_WALL_MM = 0.45  # on paper; a thinner wall would only thicken the outline
_CHUNK = 4  # points of an arc that share one obstacle


def draw_body(body: Body, view: View, *, od_mm: float, wall_mm: float, hidden: bool = True) -> tuple[Shape, ...]:
    """Return the shapes of a spool's pipe, from the farthest stretch to the nearest.

    Args:
        body: the spool in space.
        view: the projection, with its scale in paper mm per mm.
        od_mm: outside diameter.
        wall_mm: wall thickness.
        hidden: True draws the bore inside the pipe too.
    """
    shapes: list[Shape] = []
    radius = od_mm / 2
    bore = radius - wall_mm if wall_mm * view.scale >= _LEAST_WALL_MM else 0.0
    faces = dict(_faces(body))
    for k in sorted(range(len(body.stretches)), key=lambda k: _depth(body.stretches[k], view)):
        stretch = body.stretches[k]
        left, right = silhouette(stretch, view, radius)
        shapes.append(Polyline((*left, *reversed(right)), "paper", closed=True))
        shapes += [Polyline(left, "edge"), Polyline(right, "edge")]
        if bore and hidden:
            shapes += [Polyline(line, "hidden") for line in silhouette(stretch, view, bore)]
        for end in (0, -1):
            if (k, end) in faces:
                shapes += _face(stretch, end, view, radius=radius, bore=bore)
        shapes.append(Polyline(tuple(view.at(p) for p in stretch.points), "center"))
    for point, along, face in body.welds:
        shapes.append(Polyline(rim(point, along, face, view, radius, front_only=True), "weld"))
    return tuple(shapes)


def obstacles(body: Body, view: View, *, od_mm: float) -> tuple[Box, ...]:
    """Return boxes that cover the pipe on paper, for labels to keep off."""
    found = []
    for stretch in body.stretches:
        points = [view.at(p) for p in stretch.points]
        corners = [*points[:-1:_CHUNK], points[-1]] if stretch.kind == "arc" else points
        found += [stroke_box(a, b, width_mm=od_mm * view.scale) for a, b in pairwise(corners) if a != b]
    return tuple(found)


def outline_points(body: Body, view: View, *, od_mm: float) -> Iterator[Point]:
    """Yield points of the outlines, to measure how much paper the pipe takes."""
    for stretch in body.stretches:
        for line in silhouette(stretch, view, od_mm / 2):
            yield from line


def end_on_paper(frame: Frame, view: View, *, outward: float) -> tuple[Point, Point]:
    """Return where an end falls on paper and the direction out of the pipe there (shorter where it leans away)."""
    u = (dot(frame.along, view.right) * outward, dot(frame.along, view.up) * outward)
    return view.at(frame.point), u


def _faces(body: Body) -> Iterator[tuple[tuple[int, int], bool]]:
    """Yield which ends of which stretches are cut faces: all but those inside one piece."""
    last = len(body.stretches) - 1
    for k, stretch in enumerate(body.stretches):
        if k == 0 or body.stretches[k - 1].piece != stretch.piece:
            yield (k, 0), True
        if k == last or body.stretches[k + 1].piece != stretch.piece:
            yield (k, -1), True


def _face(stretch: Stretch, end: int, view: View, *, radius: float, bore: float) -> list[Shape]:
    """Draw a cut face: the whole ring and its bore when it looks at the eye, else the half that shows."""
    point, along = stretch.points[end], stretch.alongs[end]
    face = stretch.face_1 if end == 0 else stretch.face_2
    outward = -1.0 if end == 0 else 1.0
    if outward * dot(along, view.toward) > 1e-6:
        ring = rim(point, along, face, view, radius, front_only=False)
        shapes: list[Shape] = [Polyline(ring, "paper", closed=True), Polyline(ring, "edge")]
        if bore:
            shapes.append(Polyline(rim(point, along, face, view, bore, front_only=False), "edge"))
        return shapes
    return [Polyline(rim(point, along, face, view, radius, front_only=True), "edge")]


def _depth(stretch: Stretch, view: View) -> float:
    return sum(view.depth(p) for p in stretch.points) / len(stretch.points)
