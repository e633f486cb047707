"""A spool drawn to scale from a stated view, with everything a fitter measures."""

from math import inf

from geometry.drawing.blocks import NOTE_MM
from geometry.drawing.boxes import Box, stroke_box
from geometry.drawing.callouts import place_balloons, place_ends, place_up_mark, place_welds
from geometry.drawing.description import Hand, SpoolDrawing
from geometry.drawing.end_ink import FLANGE_HALF, end_features
from geometry.drawing.fitting import LEAN_ROOM_MM, ROOM_MM, centered, points_seen, ratios_to_try
from geometry.drawing.labels import box_of, text_width_mm
from geometry.drawing.measures import draw_turns, place_check, place_cuts, place_developed, place_legs, place_turn_words
from geometry.drawing.pipe_ink import draw_body, end_on_paper, obstacles
from geometry.drawing.placing import Item, Sheet
from geometry.drawing.scales import scale_text
from geometry.drawing.scene import Scene, body_and_points
from geometry.drawing.shapes import Drawing, Line, Point, Polyline, Text
from geometry.drawing.view import View
from geometry.lengths import THIRTY_SECOND, format_length

_SIZES = (1.0, 0.85, 0.72)

_SEEN: dict[Hand, str] = {
    "left": "Seen with the up mark toward you, main end at the left: turns left.",
    "right": "Seen with the up mark toward you, main end at the left: turns right.",
    "up": "Seen from the side with the up mark on top, main end at the left: turns up.",
    "down": "Seen from the side with the up mark on top, main end at the left: turns down.",
    "": "Seen square to the first turn, end A at the left.",
}


def _seen(spool: SpoolDrawing) -> str:
    """Say where the eye is; straight pipe turns nowhere, whatever hand was said."""
    if not spool.line.turns_deg:
        return "Straight pipe, end A at the left."
    return _SEEN[spool.hand] if spool.hand else f"{_SEEN['']} {spool.hand_words}"


def spool_view(
    spool: SpoolDrawing, *, width_mm: float = 190.0, height_mm: float = 125.0, lean: bool = False
) -> Drawing:
    """Return the drawing of a spool, to scale, every label clear of the others and inside the frame.

    Args:
        spool: what to draw.
        width_mm: width of the frame, at least 120, or 90 for a lean drawing.
        height_mm: height of the frame, at least 70, or 45 for a lean drawing.
        lean: for a label: pieces, legs, check and turn only, without head, ends, welds and cut lengths.

    Returns:
        A drawing with ``view_text`` and ``scale_text``, both also written at its foot.

    Raises:
        DrawingError: the spool has no pieces.
    """
    best: Scene | None = None
    best_cost, ratio_of_best = inf, 1.0
    body, points = body_and_points(spool)
    flip = -1.0 if spool.hand in {"right", "down"} else 1.0
    bare = View((1.0, 0.0, 0.0), (0.0, flip, 0.0))
    seen = points_seen(spool, body, points, bare)
    room_mm = LEAN_ROOM_MM if lean else ROOM_MM
    ratios = ratios_to_try(spool, seen, width_mm=width_mm, height_mm=height_mm, room_mm=room_mm)
    for size in _SIZES:
        for trial, ratio in enumerate(ratios):
            view = centered(bare, seen, ratio, width_mm=width_mm, height_mm=height_mm)
            scene = Scene(spool=spool, body=body, points=points, view=view, sheet=Sheet(width_mm, height_mm), size=size)
            _fill(scene, ratio, lean=lean)
            cost = scene.sheet.cost + 1000.0 * scene.sheet.failed + 60.0 * trial
            if cost < best_cost:
                best, best_cost, ratio_of_best = scene, cost, ratio
            if not scene.sheet.failed and not scene.sheet.marred:
                break
        if best is not None and not best.sheet.failed:
            break
    assert best is not None  # noqa: S101 - there is always a first trial
    return Drawing(
        width_mm,
        height_mm,
        tuple(best.sheet.shapes),
        f"Spool {spool.mark}",
        scale_text(ratio_of_best, spool.graduation),
        _seen(spool),
    )


def _fill(scene: Scene, ratio: float, *, lean: bool) -> None:
    """Draw everything, what must stand near the pipe first."""
    sheet = scene.sheet
    sheet.bodies.extend(obstacles(scene.body, scene.view, od_mm=scene.spool.od_mm))
    _write_foot(scene, ratio)
    if not lean:
        _write_head(scene)
    _draw_pipe(scene)
    turns = draw_turns(scene)
    place_check(scene)
    if lean:  # little room: the marks first, which must stand beside their pieces
        place_balloons(scene)
        place_legs(scene)
        place_turn_words(scene, turns)
        return
    place_cuts(scene)
    place_legs(scene)
    place_turn_words(scene, turns)
    place_developed(scene)
    place_ends(scene)
    place_up_mark(scene)
    place_welds(scene)
    place_balloons(scene)


def _write_foot(scene: Scene, ratio: float) -> None:
    words = f"{_seen(scene.spool)} {scale_text(ratio, scene.spool.graduation)}."
    if scene.leaves_paper():
        words += " Legs that leave the paper look short; their figures are true."
    height = NOTE_MM
    room = scene.sheet.width_mm - 2 * scene.sheet.edge_mm - 1.0
    wide = text_width_mm(words, height_mm=height)
    text = Text(scene.sheet.edge_mm + 0.5, scene.sheet.edge_mm + 1.0, words, min(height, height * room / wide))
    box = box_of(text)
    clear = Box(tuple((x, y + (1.5 if y > box.yc else 0.0)) for x, y in box.corners))  # type: ignore[arg-type]
    scene.sheet.put(Item((text,), (clear,), ()))


def _write_head(scene: Scene) -> None:
    """Write the mark and the pipe in the corner that the pipe leaves free."""
    sheet, spool = scene.sheet, scene.spool
    tall, note, edge = 4.6, NOTE_MM, sheet.edge_mm + 0.5
    rows = ((spool.mark, tall, "mark"), (f"{spool.pipe_words}, {_gap_words(spool)}", note, "note"))
    items = []
    for right in (False, True):
        x = sheet.width_mm - edge if right else edge
        anchor = "end" if right else "start"
        top = sheet.height_mm - edge - tall * 1.1
        texts = tuple(
            Text(x, top - row * note * 2.0, words, height, anchor, style=style)  # type: ignore[arg-type]
            for row, (words, height, style) in enumerate(rows)
        )
        items.append(Item(texts, tuple(box_of(text) for text in texts), (), 5.0 * right))
    sheet.place(items)


def _gap_words(spool: SpoolDrawing) -> str:
    if spool.graduation.denominator == 0:
        return f"root gap {spool.root_gap_mm:.1f} mm"
    return f"root gap {format_length(spool.root_gap_mm, graduation=THIRTY_SECOND)}"


def _draw_pipe(scene: Scene) -> None:
    spool, view, sheet = scene.spool, scene.view, scene.sheet
    sheet.shapes.extend(draw_body(scene.body, view, od_mm=spool.od_mm, wall_mm=spool.wall_mm))
    for frame, end, outward in ((scene.body.end_a, spool.end_a, -1.0), (scene.body.end_b, spool.end_b, 1.0)):
        at, out = end_on_paper(frame, view, outward=outward)
        sheet.shapes.extend(
            end_features(
                end.prep,
                end=at,
                outward=out,
                od_mm=spool.od_mm,
                wall_mm=spool.wall_mm,
                beyond_mm=end.beyond_mm if end.prep.startswith("flanged") else 0.0,
                scale=view.scale,
            )
        )
        if end.prep.startswith("flanged"):
            half = max(FLANGE_HALF * scene.half_mm * 2.0, scene.half_mm * 1.3 + 1.0)
            face = end.beyond_mm * view.scale
            back = (at[0] + out[0] * (face - 3.0), at[1] + out[1] * (face - 3.0))
            front = (at[0] + out[0] * face, at[1] + out[1] * face)
            sheet.bodies.append(stroke_box(back, front, width_mm=2 * half))
        tail = (at[0] + out[0] * 3.0, at[1] + out[1] * 3.0)
        sheet.shapes.append(Line(*at, *tail, "center"))
    paper = scene.paper()
    for before, corner, after in zip(paper, paper[1:], paper[2:], strict=False):
        sheet.shapes.append(Polyline((_toward(corner, before, scene), corner, _toward(corner, after, scene)), "center"))


def _toward(corner: Point, other: Point, scene: Scene) -> Point:
    """Return a point from a PI along a leg, as far as the bend reaches."""
    index = scene.paper().index(corner) - 1
    reach = scene.spool.od_mm * 1.5 * scene.view.scale if index < 0 else _take_off(scene, index)
    dx, dy = other[0] - corner[0], other[1] - corner[1]
    size = (dx * dx + dy * dy) ** 0.5 or 1.0
    part = min(1.0, reach / size)
    return corner[0] + dx * part, corner[1] + dy * part


def _take_off(scene: Scene, index: int) -> float:
    """Return on paper how far the arc nearest to a PI begins from it; 0 at a single miter."""
    corner = scene.points[index + 1]
    arcs = [s for s in scene.body.stretches if s.kind == "arc"]
    found = [
        sum((a - b) ** 2 for a, b in zip(point, corner, strict=True)) ** 0.5
        for stretch in arcs
        for point in (stretch.points[0], stretch.points[-1])
    ]
    return (min(found) if found else scene.spool.od_mm) * scene.view.scale
