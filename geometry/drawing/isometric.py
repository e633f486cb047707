"""A spool in true isometric projection: the up mark up the paper, leg A running away to the right."""

from itertools import pairwise
from math import sqrt

from geometry.centerline import Frame, Vector, crossed, moved
from geometry.drawing.blocks import NOTE_MM, balloon, end_block, length_block, two_lines
from geometry.drawing.body import Body, Stretch
from geometry.drawing.boxes import Box, stroke_box
from geometry.drawing.description import DrawnEnd, Hand, SpoolDrawing
from geometry.drawing.figures import degrees_text, stacked_length
from geometry.drawing.labels import box_of
from geometry.drawing.measures import leg_name
from geometry.drawing.pipe_ink import draw_body, end_on_paper, obstacles, outline_points
from geometry.drawing.placing import Item, Sheet
from geometry.drawing.scene import body_and_points, direction_deg
from geometry.drawing.shapes import Drawing, Line, Point, Polyline, Shape, Text, arrowhead
from geometry.drawing.view import View, rim

_FIGURE_MM = 2.7
_MARGIN_MM, _FOOT_MM = 22.0, 6.0
SEAT_MM, GROOVE_MM = 15.9, 8.7  # as on the flat drawing

# Which way is up in the spool's own frame (leg A along x, the first turn toward y) for each recorded hand.
UP: dict[Hand, Vector] = {
    "left": (0.0, 0.0, 1.0),
    "right": (0.0, 0.0, -1.0),
    "up": (0.0, 1.0, 0.0),
    "down": (0.0, -1.0, 0.0),
    "": (0.0, 0.0, 1.0),
}


def isometric_basis(hand: Hand) -> View:
    """Return the isometric projection in which leg A runs to the right and back, left runs to the left and back.

    Source: isometric projection, the eye on the cube's diagonal; every axis is shortened by sqrt(2/3).
    """
    forward, up = (1.0, 0.0, 0.0), UP[hand]
    left = crossed(up, forward)
    right_axis = tuple((f - s) / sqrt(2.0) for f, s in zip(forward, left, strict=True))
    up_axis = tuple((f + s + 2.0 * u) / sqrt(6.0) for f, s, u in zip(forward, left, up, strict=True))
    return View((right_axis[0], right_axis[1], right_axis[2]), (up_axis[0], up_axis[1], up_axis[2]))


def isometric_view(spool: SpoolDrawing, *, width_mm: float = 120.0, height_mm: float = 100.0) -> Drawing:
    """Return the isometric view of a spool with its legs, turns, ends and marks.

    Args:
        spool: what to draw.
        width_mm: width of the frame.
        height_mm: height of the frame.

    Raises:
        DrawingError: the spool has no pieces.
    """
    body, points = body_and_points(spool)
    view = _fitted(spool, body, points, width_mm=width_mm, height_mm=height_mm)
    sheet = Sheet(width_mm, height_mm)
    sheet.bodies.extend(obstacles(body, view, od_mm=spool.od_mm))
    sheet.bodies.extend(_end_boxes(spool, body, view))
    sheet.shapes.extend(
        draw_body(with_flanges(spool, body), view, od_mm=spool.od_mm, wall_mm=spool.wall_mm, hidden=False)
    )
    sheet.shapes.extend(_grooves(spool, body, view))
    words = "Isometric view, not to be scaled."
    if not spool.hand:
        words += f" {spool.hand_words}"
    foot = Text(sheet.edge_mm + 0.5, sheet.edge_mm + 1.0, words, NOTE_MM * 0.9)
    sheet.put(Item((foot,), (box_of(foot),), ()))
    if spool.hand:
        _draw_up(sheet)
    paper = [view.at(p) for p in points]
    for index, corner in enumerate(paper[1:-1]):
        block = two_lines(f"TURN {degrees_text(spool.line.turns_deg[index])}", _twist_words(spool, index), size=0.85)
        sheet.place_block(block, corner, prefer_deg=direction_deg(paper[index], corner), near_mm=5.0)
    for index, (start, end) in enumerate(pairwise(paper)):
        name = leg_name(index, len(paper) - 1)
        label = stacked_length(spool.line.legs_mm[index], spool.graduation, height_mm=_FIGURE_MM, prefix=f"{name} ")
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        near = spool.od_mm / 2 * view.scale + 3.0
        sheet.place_block(length_block(label), middle, prefer_deg=direction_deg(start, end) - 90.0, near_mm=near)
    _place_ends(sheet, spool, body, view)
    _place_balloons(sheet, spool, body, view)
    return Drawing(width_mm, height_mm, tuple(sheet.shapes), f"Spool {spool.mark}, isometric view", "", words)


def _fitted(spool: SpoolDrawing, body: Body, points: tuple[Vector, ...], *, width_mm: float, height_mm: float) -> View:
    """Return the isometric view at the scale that fills the frame but for the labels' margin."""
    bare = isometric_basis(spool.hand)
    seen = [*outline_points(body, bare, od_mm=spool.od_mm), *(bare.at(p) for p in points)]
    xs, ys = [x for x, _ in seen], [y for _, y in seen]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((width_mm - 2 * _MARGIN_MM) / wide, (height_mm - 2 * _MARGIN_MM * 0.8 - _FOOT_MM) / tall)
    origin = (
        width_mm / 2 - (max(xs) + min(xs)) / 2 * scale,
        (height_mm + _FOOT_MM) / 2 - (max(ys) + min(ys)) / 2 * scale,
    )
    return View(bare.right, bare.up, scale, origin)


def _twist_words(spool: SpoolDrawing, index: int) -> str:
    """Say how far a later bend is rolled about the pipe before it."""
    if index == 0:
        return ""
    twist = spool.line.twists_deg[index - 1]
    return f"rolled {degrees_text(abs(twist))} {'right' if twist > 0 else 'left'}" if twist else "not rolled"


def with_flanges(spool: SpoolDrawing, body: Body) -> Body:
    """Return the body; a flange is drawn as rings, so its neck is the pipe carried on to the face."""
    extra: list[Stretch] = []
    for frame, end, outward in _ends(spool, body):
        if end.prep.startswith("flanged") and end.beyond_mm > 0.0:
            tip = moved(frame.point, frame.along, outward * end.beyond_mm)
            pair = (tip, frame.point) if outward < 0 else (frame.point, tip)
            extra.append(Stretch("flange", "pipe", pair, (frame.along, frame.along), frame.along, frame.along))
    return Body((*body.stretches, *extra), body.welds, body.end_a, body.end_b) if extra else body


def _grooves(spool: SpoolDrawing, body: Body, view: View) -> list[Shape]:
    """Draw the rings of roll grooves and flanges where the eye sees them."""
    shapes: list[Shape] = []
    radius = spool.od_mm / 2
    for frame, end, outward in _ends(spool, body):
        if end.prep == "grooved":
            for back in (SEAT_MM, SEAT_MM + GROOVE_MM):
                at = moved(frame.point, frame.along, -outward * back)
                ring = rim(at, frame.along, frame.along, view, radius, front_only=True)
                shapes.append(Polyline(ring, "thin"))
        if end.prep.startswith("flanged"):
            shapes += _flange(frame, outward, end.beyond_mm, spool.od_mm, view)
    return shapes


def flange_size_mm(od_mm: float) -> tuple[float, float]:
    """Return radius and thickness of a flange's plate as it is drawn, near class 150 and not a maker's."""
    return od_mm * 0.65 + 25.0, max(0.13 * od_mm, 16.0)


def _flange(frame: Frame, outward: float, beyond: float, od: float, view: View) -> list[Shape]:
    """Draw a flange's plate as a short wide tube, its far ring first."""
    radius, thick = flange_size_mm(od)
    face = moved(frame.point, frame.along, outward * beyond)
    back = moved(frame.point, frame.along, outward * (beyond - thick))
    rings = [rim(p, frame.along, frame.along, view, radius, front_only=False) for p in (back, face)]
    if view.depth(back) > view.depth(face):
        rings.reverse()
    far, near = rings
    half = len(near) // 2
    shapes: list[Shape] = [Polyline(far, "paper", closed=True), Polyline(far, "edge")]
    shapes.append(Polyline((far[0], near[0], near[half], far[half]), "paper", closed=True))
    shapes += [Line(*far[0], *near[0], "edge"), Line(*far[half], *near[half], "edge")]
    shapes += [Polyline(near, "paper", closed=True), Polyline(near, "edge")]
    if view.depth(face) > view.depth(back):
        shapes.append(Polyline(rim(face, frame.along, frame.along, view, od / 2, front_only=False), "edge"))
    return shapes


def _ends(spool: SpoolDrawing, body: Body) -> tuple[tuple[Frame, DrawnEnd, float], tuple[Frame, DrawnEnd, float]]:
    """Return both ends with their frames and which way along the flow is out."""
    return ((body.end_a, spool.end_a, -1.0), (body.end_b, spool.end_b, 1.0))


def _end_boxes(spool: SpoolDrawing, body: Body, view: View) -> list[Box]:
    """Return boxes that cover the ends' rings and flanges, for labels to keep off."""
    boxes = []
    for frame, end, outward in _ends(spool, body):
        flanged = end.prep.startswith("flanged")
        radius = flange_size_mm(spool.od_mm)[0] if flanged else spool.od_mm / 2
        tip = moved(frame.point, frame.along, outward * end.beyond_mm) if flanged else frame.point
        ring = rim(tip, frame.along, frame.along, view, radius, front_only=False)
        xs, ys = [x for x, _ in ring], [y for _, y in ring]
        boxes.append(Box(((min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys)))))
    return boxes


def _draw_up(sheet: Sheet) -> None:
    """Draw the arrow that says which way the up mark looks."""
    x, low, high = sheet.width_mm - 8.0, sheet.height_mm - 17.0, sheet.height_mm - 8.5
    text = Text(x, high + 1.4, "UP", 2.6, "middle", style="figure")
    line = Line(x, low, x, high - 1.0, "thin")
    shapes = (line, arrowhead((x, high), toward_deg=90.0, length_mm=3.4), text)
    sheet.put(Item(shapes, (box_of(text),), (stroke_box((x, low), (x, high), width_mm=1.0),)))


def _place_ends(sheet: Sheet, spool: SpoolDrawing, body: Body, view: View) -> None:
    for name, (frame, end, outward) in zip("AB", _ends(spool, body), strict=True):
        at, out = end_on_paper(frame, view, outward=outward)
        block = end_block(name, end, end_right=out[0] >= 0.0, size=0.85)
        sheet.place_block(block, at, prefer_deg=direction_deg((0.0, 0.0), out), near_mm=4.0)


def _place_balloons(sheet: Sheet, spool: SpoolDrawing, body: Body, view: View) -> None:
    near = spool.od_mm / 2 * view.scale + 3.0
    for piece in spool.pieces:
        parts = [s for s in body.stretches if s.piece == piece.mark]
        if parts:
            knots = max(parts, key=lambda s: len(s.points)).points
            start, end = view.at(knots[0]), view.at(knots[-1])
            target: Point = view.at(knots[len(knots) // 2]) if len(knots) > 2 else _third(start, end)
            sheet.place_block(
                balloon(piece.mark, size=0.85), target, prefer_deg=direction_deg(start, end) + 90.0, near_mm=near
            )


def _third(start: Point, end: Point) -> Point:
    return (start[0] + 2 * end[0]) / 3, (start[1] + 2 * end[1]) / 3
