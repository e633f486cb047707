"""The dimensions of a spool's drawing: legs, cut lengths, the check dimension, turns."""

from collections.abc import Iterator
from itertools import pairwise
from math import cos, radians, sin

from geometry.centerline import Vector
from geometry.drawing.blocks import FIGURE_MM, length_block, turn_block
from geometry.drawing.boxes import stroke_box
from geometry.drawing.description import DrawnPiece
from geometry.drawing.dimension import Dimension, candidates
from geometry.drawing.figures import stacked_length
from geometry.drawing.pipe_ink import outline_points
from geometry.drawing.placing import Item
from geometry.drawing.scene import Scene, direction_deg, finished_ends, paper_distance
from geometry.drawing.shapes import Arc, Line, Point, Shape, StackedLength, arrowhead
from geometry.drawing.view import dot

_FIRST_MM, _PITCH_MM = 4.2, 6.6
LEG_NAMES = "ABCDEFGH"


def leg_name(index: int, count: int) -> str:
    """Return a leg's letter: A first, B last, the ones between by number."""
    return "A" if index == 0 else "B" if index == count - 1 else f"L{index + 1}"


def place_cuts(scene: Scene) -> None:
    """Dimension the cut length of every straight piece, nearest to the pipe; short ones get a leader."""
    said: set[float] = set()
    for stretch in scene.body.stretches:
        piece = _piece(scene, stretch.piece)
        if piece is None or piece.cut_mm <= 0.0 or piece.kind != "pipe":
            continue
        middle_piece = piece.mark.startswith("M")
        if middle_piece and (piece.cut_mm in said or scene.spool.many_welds):
            continue  # the middle pieces of a miter are alike: one figure serves them all, or the table of many
        said.add(piece.cut_mm)
        start, end = scene.view.at(stretch.points[0]), scene.view.at(stretch.points[-1])
        label = _label(scene, piece.cut_mm, _cut_prefix(piece))
        side = _heel_side(scene, stretch.points[0], stretch.points[-1])
        ways = candidates(_dimension(scene, (start, end), label, side=side, first_level=0))
        if middle_piece or not scene.sheet.place(ways, most=70.0):
            _point_to(scene, start, end, label, side)


def _point_to(scene: Scene, start: Point, end: Point, label: StackedLength, side: int) -> None:
    """Say a length with a leader to the middle of what it measures."""
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    prefer = direction_deg(start, end) + 90.0 * side
    scene.sheet.place_block(length_block(label), middle, prefer_deg=prefer, near_mm=scene.half_mm + 5.0)


def place_developed(scene: Scene) -> None:
    """Say the developed length of every bent piece, at its bend."""
    for piece in scene.spool.pieces:
        arcs = [s for s in scene.body.stretches if s.piece == piece.mark and s.kind == "arc"]
        if piece.kind != "bent_pipe" or piece.cut_mm <= 0.0 or not arcs:
            continue
        target = scene.view.at(arcs[0].points[len(arcs[0].points) // 2])
        label = _label(scene, piece.cut_mm, f"{piece.mark} CUT, DEVELOPED ")
        scene.sheet.place_block(length_block(label), target, prefer_deg=90.0, near_mm=scene.half_mm + 5.0)


def place_legs(scene: Scene) -> None:
    """Dimension every leg of the center line from its reference or PI to the next."""
    paper, count = scene.paper(), len(scene.spool.line.legs_mm)
    for index, leg in enumerate(scene.spool.line.legs_mm):
        start, end = paper[index], paper[index + 1]
        label = _label(scene, leg, f"{leg_name(index, count)} ")
        side = _heel_side(scene, scene.points[index], scene.points[index + 1])
        ways = candidates(_dimension(scene, (start, end), label, side=side, first_level=1))
        if not scene.sheet.place(ways, most=150.0):
            _point_to(scene, start, end, label, side)


def place_check(scene: Scene) -> None:
    """Dimension the check dimension C between the finished ends, clear of the whole pipe."""
    if scene.spool.check_mm <= 0.0 or len(scene.spool.line.legs_mm) < 2:
        return
    start, end = (scene.view.at(p) for p in finished_ends(scene.spool, scene.body))
    label = _label(scene, scene.spool.check_mm, "CHECK C ")
    scene.sheet.failed += not scene.sheet.place(_check_ways(scene, start, end, label))


def _check_ways(scene: Scene, start: Point, end: Point, label: StackedLength) -> Iterator[Item]:
    size = paper_distance(start, end) or 1.0
    nx, ny = -(end[1] - start[1]) / size, (end[0] - start[0]) / size
    heights = [
        (x - start[0]) * nx + (y - start[1]) * ny
        for x, y in outline_points(scene.body, scene.view, od_mm=scene.spool.od_mm)
    ]
    reach = {1: max(0.0, *heights), -1: max(0.0, -min(heights))}
    near = 1 if reach[1] <= reach[-1] else -1
    hugging = scene.half_mm + _FIRST_MM  # across the spool, where there is no room past it
    for cost, side, clear in (
        (0.0, near, reach[near] + _FIRST_MM),
        (18.0, -near, reach[-near] + _FIRST_MM),
        (60.0, near, hugging),
        (60.0, -near, hugging),
    ):
        dimension = Dimension(
            start=start,
            end=end,
            label=label,
            side=side,
            clear_mm=clear,
            pitch_mm=4.0,
            both_sides=False,
            levels=8,
            skips_mm=(scene.half_mm * 0.3 + 0.9,) * 2,
        )
        for item in candidates(dimension):
            yield Item(item.shapes, item.labels, item.lines, item.cost + cost)


def draw_turns(scene: Scene) -> tuple[tuple[float, Point, float], ...]:
    """Draw the turn at every PI as an arc from the leg before, carried on, to the leg after.

    Returns:
        For every turn: its degrees, the point that its words should point to, and the direction they should lie in.
    """
    paper = scene.paper()
    found = []
    for index, turn in enumerate(scene.spool.line.turns_deg):
        corner, before, after = paper[index + 1], paper[index], paper[index + 2]
        radius = max(8.0, min(15.0, 0.4 * paper_distance(corner, after))) * scene.size
        target, prefer = corner, direction_deg(before, after) - 90.0
        if _lies_in_paper(scene, index):
            first, last = direction_deg(before, corner), direction_deg(corner, after)
            sweep = (last - first + 180.0) % 360.0 - 180.0
            target, prefer = _polar(corner, first + sweep / 3, radius), first + sweep / 3
            _draw_turn(scene, corner, radius, first, sweep)
        found.append((turn, target, prefer))
    return tuple(found)


def place_turn_words(scene: Scene, turns: tuple[tuple[float, Point, float], ...]) -> None:
    """Say every turn and its included angle beside its arc."""
    for turn, target, prefer in turns:
        scene.sheet.place_block(turn_block(turn, size=scene.size), target, prefer_deg=prefer, near_mm=2.5)


def _draw_turn(scene: Scene, corner: Point, radius: float, first: float, sweep: float) -> None:
    tip = _polar(corner, first, radius + 3.0)
    ends = [Line(*corner, *tip, "center")]
    shapes: list[Shape] = [*ends, Arc(*corner, radius, first, sweep, "dim")]
    if abs(radians(sweep)) * radius > 4.5:
        sign = 1.0 if sweep > 0 else -1.0
        lean = 2.6 / radius * 57.3 / 2  # an arrowhead on an arc lies along its chord
        shapes.append(
            arrowhead(
                _polar(corner, first + sweep, radius),
                toward_deg=first + sweep + sign * (90.0 - lean),
                length_mm=2.6,
            )
        )
    knots = [_polar(corner, first + sweep * k / 8, radius) for k in range(9)]
    lines = tuple(stroke_box(a, b, width_mm=0.2) for a, b in (*pairwise(knots), (corner, tip)) if a != b)
    scene.sheet.put(Item(tuple(shapes), (), lines))


def _polar(center: Point, degrees: float, radius: float) -> Point:
    return center[0] + radius * cos(radians(degrees)), center[1] + radius * sin(radians(degrees))


def _lies_in_paper(scene: Scene, index: int) -> bool:
    """Tell whether both legs at a turn are seen in their true length."""
    toward = scene.view.toward
    return all(
        abs(dot(_difference(scene.points[k + 1], scene.points[k]), toward)) < 1e-6 * scene.spool.line.legs_mm[k]
        for k in (index, index + 1)
    )


def _difference(p: Vector, q: Vector) -> Vector:
    return (p[0] - q[0], p[1] - q[1], p[2] - q[2])


def _heel_side(scene: Scene, start: Vector, end: Vector) -> int:
    """Return the side on which most of the paper is free: away from the rest of the spool."""
    (x1, y1), (x2, y2) = scene.view.at(start), scene.view.at(end)
    lean = sum((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) for x, y in scene.paper())
    return -1 if lean > 0 else 1


def _dimension(
    scene: Scene, ends: tuple[Point, Point], label: StackedLength, *, side: int, first_level: int
) -> Dimension:
    """Return a dimension whose lines start clear of the pipe; past a flange's rim where one is."""
    half = scene.half_mm
    return Dimension(
        start=ends[0],
        end=ends[1],
        label=label,
        side=side,
        clear_mm=half + _FIRST_MM,
        pitch_mm=_PITCH_MM * scene.size,
        first_level=first_level,
        skips_mm=(half + 0.9 if scene.covered(ends[0]) else 0.9, half + 0.9 if scene.covered(ends[1]) else 0.9),
    )


def _label(scene: Scene, length_mm: float, prefix: str) -> StackedLength:
    return stacked_length(length_mm, scene.spool.graduation, height_mm=FIGURE_MM * scene.size, prefix=prefix)


def _cut_prefix(piece: DrawnPiece) -> str:
    name = f"{piece.mark} " if piece.mark.startswith("M") else ""
    return f"{name}CUT ON CL " if piece.on_center else f"{name}CUT "


def _piece(scene: Scene, mark: str) -> DrawnPiece | None:
    return next((piece for piece in scene.spool.pieces if piece.mark == mark), None)
