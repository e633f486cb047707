"""Everything with a leader on a spool's drawing: ends, up mark, welds, piece marks."""

from geometry.centerline import Vector
from geometry.drawing.blocks import balloon, end_block, two_lines, weld_symbol
from geometry.drawing.pipe_ink import end_on_paper
from geometry.drawing.placing import Block
from geometry.drawing.scene import Scene, direction_deg
from geometry.drawing.shapes import Point, Polyline
from geometry.drawing.view import dot


def place_ends(scene: Scene) -> None:
    """Place the callouts of both ends, outward from the spool (paper mm)."""
    for name, frame, end, outward in (
        ("A", scene.body.end_a, scene.spool.end_a, -1.0),
        ("B", scene.body.end_b, scene.spool.end_b, 1.0),
    ):
        at, out = end_on_paper(frame, scene.view, outward=outward)
        block = end_block(name, end, end_right=out[0] >= 0.0, size=scene.size)
        scene.sheet.place_block(block, at, prefer_deg=direction_deg((0.0, 0.0), out), near_mm=4.0)


def place_up_mark(scene: Scene) -> None:
    """Show where the up mark is: on top of leg A, or on the face toward the eye."""
    hand, half = scene.spool.hand, scene.half_mm
    if not hand:
        return
    first = scene.body.stretches[0]
    (x1, y1), (x2, y2) = scene.view.at(first.points[0]), scene.view.at(first.points[-1])
    x, y = x1 + 0.3 * (x2 - x1), y1 + 0.3 * (y2 - y1)
    if hand in {"up", "down"}:
        y += half
        words, low = "on top", y
    else:
        words, low = "toward you", y - 0.8
    scene.sheet.shapes.append(Polyline(((x - 1.1, low), (x + 1.1, low), (x, low + 1.9)), "ink", closed=True))
    block = two_lines("UP MARK", words, size=scene.size * 0.85)
    scene.sheet.place_block(block, (x, low + 1.9), prefer_deg=110.0, near_mm=3.0 if hand in {"up", "down"} else half)


def place_welds(scene: Scene) -> None:
    """Place a numbered callout at every weld (paper mm); one for all of a miter of many."""
    numbers = scene.spool.welds or tuple(range(1, len(scene.body.welds) + 1))
    welds = [(f"W{number}", weld) for number, weld in zip(numbers, scene.body.welds, strict=False)]
    if scene.spool.many_welds:
        welds = [(f"{welds[0][0]} to {welds[-1][0]}", welds[len(welds) // 2][1])]
    middle = _middle(scene)
    for words, (point, along, _) in welds:
        x, y = scene.view.at(point)
        out, up = _on_paper(scene, along)
        nx, ny = -up, out
        if (x - middle[0]) * nx + (y - middle[1]) * ny > 0.0:
            nx, ny = -nx, -ny  # toward the throat, where the dimensions are not
        near = (x + nx * scene.half_mm, y + ny * scene.half_mm)
        far = (x - nx * scene.half_mm, y - ny * scene.half_mm)
        targets = ((near, direction_deg(far, near) + 30.0), (far, direction_deg(near, far) - 30.0))
        scene.sheet.place_block_at_one(weld_symbol(words, size=scene.size), targets, near_mm=5.0)


def _on_paper(scene: Scene, along: Vector) -> Point:
    """Return a direction of space on paper, one long."""
    dx, dy = dot(along, scene.view.right), dot(along, scene.view.up)
    size = (dx * dx + dy * dy) ** 0.5 or 1.0
    return dx / size, dy / size


def _middle(scene: Scene) -> Point:
    paper = scene.paper()
    return sum(x for x, _ in paper) / len(paper), sum(y for _, y in paper) / len(paper)


def place_balloons(scene: Scene) -> None:
    """Put every piece's mark in a circle beside it; many middle pieces of a miter are named together."""
    together = scene.spool.middle_pieces if scene.spool.many_welds else ()
    for piece in scene.spool.pieces:
        if piece not in together:
            _place_mark(scene, piece.mark, balloon(piece.mark, size=scene.size))
    if together:
        named = two_lines(f"{together[0].mark} to {together[-1].mark}", "in order from end A", size=scene.size)
        _place_mark(scene, together[len(together) // 2].mark, named)


def _place_mark(scene: Scene, mark: str, block: Block) -> None:
    stretches = [s for s in scene.body.stretches if s.piece == mark]
    if not stretches:
        return
    longest = max(stretches, key=lambda s: len(s.points) if s.kind == "arc" else 1)
    knot = longest.points[len(longest.points) // 2] if longest.kind == "arc" else None
    start, end = scene.view.at(longest.points[0]), scene.view.at(longest.points[-1])
    target = scene.view.at(knot) if knot else ((start[0] + 2 * end[0]) / 3, (start[1] + 2 * end[1]) / 3)
    prefer = direction_deg(start, end) + 90.0
    scene.sheet.place_block(block, target, prefer_deg=prefer, near_mm=scene.half_mm + 3.5)
