"""Turned rectangles that labels, lines and pipes cover, and whether they touch."""

from collections.abc import Iterable
from math import hypot

from geometry.drawing.shapes import Point

_FLAT = 1e-9


class Box:
    """A turned rectangle: four corners counter-clockwise, middle and half sides, and the upright frame around it."""

    __slots__ = ("axis_1", "axis_2", "corners", "flat", "half_1", "half_2", "x1", "x2", "xc", "y1", "y2", "yc")

    def __init__(self, corners: tuple[Point, Point, Point, Point]) -> None:
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = self.corners = corners
        self.xc, self.yc = (ax + cx) / 2, (ay + cy) / 2
        self.half_1 = px, py = (bx - ax) / 2, (by - ay) / 2
        self.half_2 = qx, qy = (dx - ax) / 2, (dy - ay) / 2
        across, tall = abs(px) + abs(qx), abs(py) + abs(qy)
        self.x1, self.x2 = self.xc - across, self.xc + across
        self.y1, self.y2 = self.yc - tall, self.yc + tall
        p, q = hypot(px, py), hypot(qx, qy)
        self.axis_1, self.axis_2 = (px / p, py / p, p), (qx / q, qy / q, q)
        self.flat = abs(py) < _FLAT or abs(px) < _FLAT

    def overlaps(self, other: "Box", *, clear_mm: float = 0.0) -> bool:
        """Tell whether two boxes come nearer than ``clear_mm``."""
        return touching(self, (other,), clear_mm=clear_mm) > 0

    def inside(self, *, width_mm: float, height_mm: float, edge_mm: float = 0.0) -> bool:
        """Tell whether the whole box lies inside a frame."""
        return (
            self.x1 >= edge_mm
            and self.y1 >= edge_mm
            and self.x2 <= width_mm - edge_mm
            and self.y2 <= height_mm - edge_mm
        )


def touching(box: Box, others: Iterable[Box], *, clear_mm: float = 0.0, most: int = 1_000_000) -> int:
    """Return how many of the others come nearer to a box than ``clear_mm``; stops counting at ``most``."""
    x1, x2, y1, y2 = box.x1 - clear_mm, box.x2 + clear_mm, box.y1 - clear_mm, box.y2 + clear_mm
    count = 0
    for other in others:
        if other.x1 >= x2 or other.x2 <= x1 or other.y1 >= y2 or other.y2 <= y1:
            continue
        if (box.flat and other.flat) or not (_parted(box, other, clear_mm) or _parted(other, box, clear_mm)):
            count += 1
            if count >= most:
                break
    return count


def _parted(one: Box, other: Box, clear_mm: float) -> bool:
    """Tell whether a side's direction of the first box parts the two (separating axes)."""
    dx, dy = other.xc - one.xc, other.yc - one.yc
    (px, py), (qx, qy) = other.half_1, other.half_2
    for ux, uy, half in (one.axis_1, one.axis_2):
        room = abs(dx * ux + dy * uy) - half - abs(px * ux + py * uy) - abs(qx * ux + qy * uy)
        if room >= clear_mm:
            return True
    return False


def stroke_box(start: Point, end: Point, *, width_mm: float) -> Box:
    """Return the box that a straight stroke of a width fills; a stroke of no length is a dot."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    size = hypot(dx, dy)
    ux, uy = (dx / size, dy / size) if size else (1.0, 0.0)
    if size < 0.01:
        end = (start[0] + 0.01 * ux, start[1] + 0.01 * uy)
    nx, ny = -uy * width_mm / 2, ux * width_mm / 2
    return Box(
        (
            (start[0] - nx, start[1] - ny),
            (end[0] - nx, end[1] - ny),
            (end[0] + nx, end[1] + ny),
            (start[0] + nx, start[1] + ny),
        )
    )
