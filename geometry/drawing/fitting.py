"""How large a spool is drawn and where in the frame, so that its dimensions have room."""

from itertools import pairwise

from geometry.centerline import Vector
from geometry.drawing.body import Body
from geometry.drawing.description import SpoolDrawing
from geometry.drawing.end_ink import FLANGE_HALF
from geometry.drawing.pipe_ink import end_on_paper, outline_points
from geometry.drawing.scales import scales_from
from geometry.drawing.shapes import Point
from geometry.drawing.view import View

_FOOT_MM = 5.5
ROOM_MM, LEAN_ROOM_MM = (17.0, 14.0), (12.0, 9.0)  # kept beside and above the pipe for what is written
_TRIALS = 2


def points_seen(spool: SpoolDrawing, body: Body, points: tuple[Vector, ...], view: View) -> list[Point]:
    """Return points that a drawing must hold: outlines, PIs, legs carried on past them, flanges."""
    return [
        *outline_points(body, view, od_mm=spool.od_mm),
        *(view.at(p) for p in points),
        *_carried_on(spool, points, view),
        *_flange_rims(spool, body, view),
    ]


def _carried_on(spool: SpoolDrawing, points: tuple[Vector, ...], view: View) -> list[Point]:
    """Return where the legs carried on past their PIs end, which the turns' arcs need."""
    found = []
    for before, corner in pairwise(points[:-1]):
        (x1, y1), (x2, y2) = view.at(before), view.at(corner)
        size = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
        found.append((x2 + (x2 - x1) / size * spool.od_mm, y2 + (y2 - y1) / size * spool.od_mm))
    return found


def _flange_rims(spool: SpoolDrawing, body: Body, view: View) -> list[Point]:
    """Return the outermost points of the flanges, which reach past the pipe."""
    found = []
    for frame, end, outward in ((body.end_a, spool.end_a, -1.0), (body.end_b, spool.end_b, 1.0)):
        if end.prep.startswith("flanged"):
            at, (ux, uy) = end_on_paper(frame, view, outward=outward)
            face = (at[0] + ux * end.beyond_mm, at[1] + uy * end.beyond_mm)
            half = FLANGE_HALF * spool.od_mm
            found += [(face[0] - uy * half, face[1] + ux * half), (face[0] + uy * half, face[1] - ux * half)]
    return found


def ratios_to_try(
    spool: SpoolDrawing,
    seen: list[Point],
    *,
    width_mm: float,
    height_mm: float,
    room_mm: tuple[float, float] = ROOM_MM,
) -> tuple[float, ...]:
    """Return the scales to try: the largest that leaves room for dimensions, and the next one."""
    wide = max(x for x, _ in seen) - min(x for x, _ in seen)
    tall = max(y for _, y in seen) - min(y for _, y in seen)
    room = (width_mm - 2 * room_mm[0], height_mm - 2 * room_mm[1] - _FOOT_MM)
    return scales_from(max(wide / room[0], tall / room[1]), spool.graduation)[:_TRIALS]


def centered(bare: View, seen: list[Point], ratio: float, *, width_mm: float, height_mm: float) -> View:
    """Return the view at a scale with the pipe in the middle of the frame."""
    xs, ys = [x for x, _ in seen], [y for _, y in seen]
    origin = (
        width_mm / 2 - (max(xs) + min(xs)) / 2 / ratio,
        (height_mm + _FOOT_MM) / 2 - (max(ys) + min(ys)) / 2 / ratio,
    )
    return View(bare.right, bare.up, 1.0 / ratio, origin)
