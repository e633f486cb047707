"""Draws end preparations on the pipe itself, to scale but never smaller than the eye can tell them by."""

from math import hypot

from geometry.drawing.shapes import Line, Point, Polyline, Shape

# Where a roll groove lies: gasket seat and groove width of the mid sizes, in mm. Source: roll-groove tables, NPS 4-6.
_SEAT_MM, _GROOVE_MM = 15.9, 8.7
FLANGE_HALF = 0.79  # half a flange's outside as a part of the pipe's, class 150 within a twentieth
_FACE_CHAMFER = 0.77  # tan of the 37.5 degree bevel


def end_features(
    prep: str, *, end: Point, outward: Point, od_mm: float, wall_mm: float, beyond_mm: float, scale: float
) -> tuple[Shape, ...]:
    """Return what marks an end preparation on the pipe's outline.

    Args:
        prep: code of the end preparation.
        end: the pipe's own end on the center line, on paper.
        outward: direction out of the pipe on paper, its length 1 where the pipe lies in the paper.
        od_mm: outside diameter.
        wall_mm: wall thickness.
        beyond_mm: how far the finished end stands past the pipe.
        scale: paper mm per mm.
    """
    size = hypot(*outward)
    if size < 0.3:
        return ()
    u = (outward[0] / size, outward[1] / size)
    pen = _Pen(end, u, od_mm / 2 * scale)
    if prep == "grooved":
        return _groove(pen, scale)
    if prep == "beveled":
        return _bevel(pen, wall_mm * scale)
    if prep.startswith("flanged"):
        return _flange(pen, od_mm * scale, beyond_mm * scale, hub=prep == "flanged_weld_neck")
    if prep == "threaded":
        return _threads(pen)
    if prep == "saddle":
        return _mouth(pen)
    return ()


class _Pen:
    """Places points by how far they lie out of the end and how far across the pipe, in paper mm."""

    __slots__ = ("at", "half", "u")

    def __init__(self, at: Point, u: Point, half: float) -> None:
        self.at, self.u, self.half = at, u, half

    def __call__(self, out: float, across: float) -> Point:
        (x, y), (ux, uy) = self.at, self.u
        return x + out * ux - across * uy, y + out * uy + across * ux


def _groove(pen: _Pen, scale: float) -> tuple[Shape, ...]:
    seat, width = max(_SEAT_MM * scale, 1.5), max(_GROOVE_MM * scale, 0.9)
    depth, half = max(2.1 * scale, 0.45), pen.half
    shapes: list[Shape] = []
    for side in (1.0, -1.0):
        top, low = side * (half + 0.3), side * (half - depth)
        notch = (pen(-seat, top), pen(-seat, low), pen(-seat - width, low), pen(-seat - width, top))
        shapes += [
            Polyline(notch, "paper", closed=True),
            Polyline((pen(-seat, side * half), notch[1], notch[2], pen(-seat - width, side * half)), "edge"),
        ]
    for out in (-seat, -seat - width):
        shapes.append(Line(*pen(out, half - depth), *pen(out, depth - half), "thin"))
    return tuple(shapes)


def _bevel(pen: _Pen, wall: float) -> tuple[Shape, ...]:
    deep = min(max(wall * 0.75, 0.7), pen.half * 0.45)
    run = deep * _FACE_CHAMFER
    shapes: list[Shape] = []
    for side in (1.0, -1.0):
        corner = (pen(0.35, side * (pen.half + 0.35)), pen(-run, side * (pen.half + 0.35)))
        shapes += [
            Polyline(
                (
                    *corner,
                    pen(-run, side * pen.half),
                    pen(0.0, side * (pen.half - deep)),
                    pen(0.35, side * (pen.half - deep)),
                ),
                "paper",
                closed=True,
            ),
            Line(*pen(-run, side * pen.half), *pen(0.0, side * (pen.half - deep)), "edge"),
        ]
    shapes.append(Line(*pen(-run, pen.half), *pen(-run, -pen.half), "thin"))
    return tuple(shapes)


def _flange(pen: _Pen, od: float, beyond: float, *, hub: bool) -> tuple[Shape, ...]:
    """Draw the plate by a rule of thumb for its outside (class 150, within a twentieth), the face at its true place."""
    face = max(beyond, 0.0)
    thick, half = max(0.13 * od, 1.2), max(FLANGE_HALF * od, 0.65 * od + 1.0)
    raised = max(0.02 * od, 0.3)
    plate = (
        pen(face - raised, half),
        pen(face - raised, -half),
        pen(face - raised - thick, -half),
        pen(face - raised - thick, half),
    )
    shapes: list[Shape] = [Polyline(plate, "paper", closed=True), Polyline(plate, "edge", closed=True)]
    seat = (pen(face, pen.half * 1.3), pen(face, -pen.half * 1.3))
    shapes += [
        Line(*seat[0], *seat[1], "edge"),
        Line(*seat[0], *pen(face - raised, pen.half * 1.3), "edge"),
        Line(*seat[1], *pen(face - raised, -pen.half * 1.3), "edge"),
    ]
    back = face - raised - thick
    if hub and back > 0.2:
        for side in (1.0, -1.0):
            shapes.append(Line(*pen(0.0, side * pen.half), *pen(back, side * pen.half * 1.22), "edge"))
        shapes.append(Line(*pen(0.0, pen.half), *pen(0.0, -pen.half), "weld"))
    elif not hub:
        neck = back - max(0.08 * od, 0.6)
        for side in (1.0, -1.0):
            shapes.append(
                Polyline(
                    (pen(neck, side * pen.half), pen(neck, side * pen.half * 1.2), pen(back, side * pen.half * 1.2)),
                    "edge",
                )
            )
    return tuple(shapes)


def _threads(pen: _Pen) -> tuple[Shape, ...]:
    pitch = max(0.5, pen.half * 0.12)
    return tuple(
        Line(*pen(-pitch * (k + 0.2), pen.half), *pen(-pitch * (k + 1.2), -pen.half), "thin") for k in range(6)
    )


def _mouth(pen: _Pen) -> tuple[Shape, ...]:
    """Draw the fishmouth: the two sides reach to the end, the middle lies back."""
    deep = pen.half * 0.4
    curve = tuple(pen(-deep * (1.0 - (k / 8) ** 2), pen.half * k / 8) for k in range(-8, 9))
    cover = (*curve, pen(0.4, pen.half * 0.97), pen(0.4, -pen.half * 0.97))
    return (Polyline(cover, "paper", closed=True), Polyline(curve, "edge"))
