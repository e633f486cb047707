"""Little pictures of end preparations: the upper wall cut open at the end and hatched, recognizable, not to scale."""

from collections.abc import Callable
from math import pi, sin

from geometry.drawing.shapes import Line, Point, Polyline, Shape

# The wall's outline around, in parts of the picture's width and height: the pipe comes from x = 0, its end is at the
# right, its bore below. The last outline of a pair is a second body (a flange) with its own hatching.
_WALL: dict[str, tuple[tuple[Point, ...], ...]] = {
    "plain": (((0.0, 0.3), (1.0, 0.3), (1.0, 0.7), (0.0, 0.7)),),
    "beveled": (((0.0, 0.3), (1.0, 0.3), (1.0, 0.38), (0.72, 0.7), (0.0, 0.7)),),
    "grooved": (
        (
            (0.0, 0.3),
            (0.36, 0.3),
            (0.42, 0.12),
            (0.6, 0.12),
            (0.66, 0.3),
            (1.0, 0.3),
            (1.0, 0.7),
            (0.62, 0.7),
            (0.62, 0.48),
            (0.4, 0.48),
            (0.4, 0.7),
            (0.0, 0.7),
        ),
    ),
    "flanged_slip_on": (
        ((0.0, 0.1), (0.82, 0.1), (0.82, 0.38), (0.0, 0.38)),
        (
            (0.55, 0.38),
            (0.94, 0.38),
            (0.94, 0.62),
            (1.0, 0.62),
            (1.0, 0.38),
            (0.94, 0.38),
            (0.94, 1.0),
            (0.62, 1.0),
            (0.62, 0.6),
            (0.55, 0.6),
        ),
    ),
    "flanged_weld_neck": (
        ((0.0, 0.1), (0.3, 0.1), (0.3, 0.17), (0.22, 0.38), (0.0, 0.38)),
        (
            (0.33, 0.1),
            (1.0, 0.1),
            (1.0, 0.62),
            (0.94, 0.62),
            (0.94, 1.0),
            (0.74, 1.0),
            (0.74, 0.58),
            (0.41, 0.38),
            (0.33, 0.17),
        ),
    ),
    "threaded": (
        (
            (0.0, 0.3),
            (1.0, 0.3),
            (1.0, 0.58),
            *((0.98 - 0.08 * k, 0.66 + 0.012 * k - 0.09 * (k % 2)) for k in range(7)),
            (0.42, 0.74),
            (0.0, 0.74),
        ),
    ),
    "saddle": (),
}
_HATCH_MM = 0.9


def end_picture(prep: str, *, at: Point, width_mm: float, height_mm: float, end_right: bool) -> tuple[Shape, ...]:
    """Return the picture of an end preparation in a box with its lower left corner at a point.

    Args:
        prep: code of the end preparation; an unknown one is drawn plain.
        at: lower left corner.
        width_mm: width of the picture.
        height_mm: height of the picture.
        end_right: True draws the end at the right, False at the left.
    """

    def place(p: Point) -> Point:
        x = p[0] if end_right else 1.0 - p[0]
        return at[0] + x * width_mm, at[1] + p[1] * height_mm

    if prep == "saddle":
        return _saddle(place)
    shapes: list[Shape] = []
    for number, outline in enumerate(_WALL.get(prep, _WALL["plain"])):
        points = tuple(place(p) for p in outline)
        shapes.append(Polyline(points, "thin", closed=True))
        shapes += _hatch(points, falling=bool(number) == end_right)
    return tuple(shapes)


def _saddle(place: Callable[[Point], Point]) -> tuple[Shape, ...]:
    """Draw the fishmouth from the side, with a part of the main's round under it."""
    mouth = [place((1.0 - 0.3 * sin(pi * k / 16), k / 16)) for k in range(17)]
    main = [place((1.0 - 0.3 * sin(pi * k / 16), -0.12 + 1.24 * k / 16)) for k in range(1, 16)]
    (low, high), (back_low, back_high) = (mouth[0], mouth[-1]), (place((0.0, 0.0)), place((0.0, 1.0)))
    return (
        Polyline((back_low, low), "thin"),
        Polyline((back_high, high), "thin"),
        Polyline(tuple(mouth), "edge"),
        Line(*place((0.0, 0.5)), *place((0.7, 0.5)), "center"),
        Polyline(tuple((x, y) for x, y in main), "hatch"),
    )


def _hatch(points: tuple[Point, ...], *, falling: bool) -> list[Shape]:
    """Return slanting lines across a closed outline."""
    slope = -1.0 if falling else 1.0
    keys = [y - slope * x for x, y in points]
    lines: list[Shape] = []
    key = min(keys) + _HATCH_MM * 0.6
    while key < max(keys):
        cuts = sorted(_crossings(points, keys, key))
        lines += [Line(*a, *b, "hatch") for a, b in zip(cuts[::2], cuts[1::2], strict=False)]
        key += _HATCH_MM * 1.414
    return lines


def _crossings(points: tuple[Point, ...], keys: list[float], key: float) -> list[Point]:
    """Return where one hatch line crosses the outline."""
    found = []
    for k, (x2, y2) in enumerate(points):
        (x1, y1), k1, k2 = points[k - 1], keys[k - 1], keys[k]
        if (k1 < key) != (k2 < key):
            part = (key - k1) / (k2 - k1)
            found.append((x1 + part * (x2 - x1), y1 + part * (y2 - y1)))
    return found
