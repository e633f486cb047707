"""Little pictures of a piece and its ends, not to scale: what the saw, the groover and the beveler will leave."""

from functools import lru_cache
from itertools import pairwise

from geometry.drawing.shapes import Arc, Drawing, Line, Point, Polyline, Shape, Text

# Each end is drawn as the upper half of a right-hand end: the outline from the pipe toward the face, in parts of
# the pipe's half height, measured back from the face (x) and up from the center (y).
_OUTLINES: dict[str, tuple[Point, ...]] = {
    "plain": ((0.0, 1.0), (0.0, 0.0)),
    "beveled": ((-0.28, 1.0), (0.0, 0.66), (0.0, 0.0)),
    "grooved": ((-0.95, 1.0), (-0.95, 0.84), (-0.6, 0.84), (-0.6, 1.0), (0.0, 1.0), (0.0, 0.0)),
    "flanged": ((-0.5, 1.0), (-0.5, 1.55), (-0.12, 1.55), (-0.12, 1.2), (0.0, 1.2), (0.0, 0.0)),
    "threaded": ((-0.9, 1.0), (0.0, 0.9), (0.0, 0.0)),
}
_SADDLE_DEPTH, _MITER_RUN = 0.55, 0.5


def picture_of(code: str) -> str:
    """Return which picture an end preparation's code has: flanged_slip_on and flanged_weld_neck share one."""
    stem = code.partition("_")[0]
    return stem if stem in {*_OUTLINES, "saddle", "miter", "trimmed"} else "plain"


@lru_cache(maxsize=512)
def piece_picture(end_1: str, end_2: str, *, width_mm: float, height_mm: float, kind: str = "pipe") -> Drawing:
    """Return the picture of a piece with end 1 at the left and end 2 at the right."""
    if kind == "elbow":
        return _elbow(width_mm, height_mm)
    half = height_mm / 3.2
    middle = height_mm / 2
    shapes: list[Shape] = []
    edges = []
    for code, toward, face in ((end_1, -1, 0.6), (end_2, 1, width_mm - 0.6)):
        end, edge = _end(picture_of(code), half=half, face=face, middle=middle, toward=toward)
        shapes += end
        edges.append(edge)
    shapes += [
        Line(edges[0][0], middle + half, edges[1][0], middle + half, "edge"),
        Line(edges[0][1], middle - half, edges[1][1], middle - half, "edge"),
        Line(0, middle, width_mm, middle, "center"),
    ]
    return Drawing(width_mm, height_mm, tuple(shapes), "piece, not to scale")


@lru_cache(maxsize=64)
def end_picture(code: str, *, width_mm: float, height_mm: float, toward: int) -> Drawing:
    """Return the picture of one end alone, its face at the right (``toward`` 1) or at the left (-1)."""
    half, middle = height_mm / 3.2, height_mm / 2
    face, back = (width_mm - 0.3, 0.3) if toward > 0 else (0.3, width_mm - 0.3)
    shapes, (top, bottom) = _end(picture_of(code), half=half, face=face, middle=middle, toward=toward)
    shapes += [
        Line(back, middle + half, top, middle + half, "edge"),
        Line(back, middle - half, bottom, middle - half, "edge"),
        Line(back, middle - half, back, middle + half, "thin"),
    ]
    return Drawing(width_mm, height_mm, tuple(shapes), f"{code} end")


def _end(name: str, *, half: float, face: float, middle: float, toward: int) -> tuple[list[Shape], tuple[float, float]]:
    """Return an end's shapes and where the pipe's upper and lower edges begin."""
    if name in {"miter", "trimmed"}:
        run = _MITER_RUN * half
        slant = Line(face, middle + half, face - toward * 2 * run, middle - half, "edge")
        return [slant], (face, face - toward * 2 * run)
    if name == "saddle":
        depth = _SADDLE_DEPTH * half
        points = [(face - toward * depth * (1 - (t / 8) ** 2), middle + half * t / 8) for t in range(-8, 9)]
        return [Polyline(tuple(points), "edge")], (face, face)
    upper = [(face + toward * x * half, middle + y * half) for x, y in _OUTLINES[name]]
    lower = [(x, 2 * middle - y) for x, y in upper]
    shapes: list[Shape] = [Line(*a, *b, "edge") for line in (upper, lower) for a, b in pairwise(line)]
    if name == "threaded":
        shapes += [
            Line(x, middle - 0.86 * half, x - toward * 0.1 * half, middle + 0.86 * half, "thin")
            for x in (face - toward * k * 0.15 * half for k in range(1, 6))
        ]
    return shapes, (upper[0][0], lower[0][0])


def _elbow(width: float, height: float) -> Drawing:
    """Draw a trimmed elbow with its three arcs named."""
    low, radius = 1.5, height - 4.0
    x, thick = width / 2 - radius * 0.6, radius * 0.42
    inner, middle, outer = radius - 2 * thick, radius - thick, radius
    rays: list[Shape] = [Arc(x, low, r, 20, 70, "edge") for r in (inner, outer)]
    rays.append(Arc(x, low, middle, 20, 70, "center"))
    rays += [
        Line(x, low + inner, x, low + outer, "edge"),
        Line(x + 0.94 * inner, low + 0.342 * inner, x + 0.94 * outer, low + 0.342 * outer, "edge"),
        Text(x + 0.8 * outer, low + 0.72 * outer, "heel", 2.4),
        Text(x - 2.0, low + inner * 0.5, "throat", 2.4, "end"),
    ]
    return Drawing(width, height, tuple(rays), "trimmed elbow, not to scale")
