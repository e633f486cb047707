"""A dimension: extension lines, a line with arrowheads, and the length along it, readable from below or the right."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import atan2, cos, hypot, pi, sin

from geometry.drawing.boxes import stroke_box
from geometry.drawing.labels import box_of, stacked_width_mm
from geometry.drawing.placing import Item
from geometry.drawing.shapes import Line, Point, Shape, StackedLength, arrowhead

_ARROW_MM = 2.6
_GAP_MM = 0.9  # an extension line starts clear of the pipe and ends past the dimension line
_LIFT_MM = 1.0  # of the label above its line


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """What to dimension: two points on paper, the label, and where the line may run.

    ``clear_mm`` is how far from the points the first line may lie (past the pipe); ``pitch_mm`` the step to the next
    ones; ``side`` 1 is to the left of start to end, -1 to the right, and comes first. ``skips_mm`` say how far from
    each point its extension line begins.
    """

    start: Point
    end: Point
    label: StackedLength
    side: int
    clear_mm: float
    pitch_mm: float
    levels: int = 4
    first_level: int = 0
    both_sides: bool = True
    skips_mm: tuple[float, float] = (0.9, 0.9)


def candidates(dimension: Dimension) -> Iterator[Item]:
    """Yield the ways to draw a dimension, each with its cost."""
    sides = (dimension.side, -dimension.side) if dimension.both_sides else (dimension.side,)
    for other, side in enumerate(sides):
        for level in range(dimension.first_level, dimension.first_level + dimension.levels):
            offset = dimension.clear_mm + level * dimension.pitch_mm
            cost = 22.0 * other + 7.0 * (level - dimension.first_level)
            yield from _drawn(dimension, side * offset, cost)


def _drawn(dimension: Dimension, offset: float, cost: float) -> Iterator[Item]:
    """Yield a dimension line at one offset with its label between the arrows, or past either end."""
    (x1, y1), (x2, y2) = dimension.start, dimension.end
    length = hypot(x2 - x1, y2 - y1)
    ux, uy = ((x2 - x1) / length, (y2 - y1) / length) if length > 1e-9 else (1.0, 0.0)
    nx, ny = -uy, ux
    at = (x1 + nx * offset, y1 + ny * offset)
    turn = _readable_deg(atan2(uy, ux) * 180.0 / pi)
    width = stacked_width_mm(dimension.label)
    inside = width + 1.0 <= length and length >= 2.4 * _ARROW_MM
    places = [(length / 2, 0.0)] if inside else []
    if inside and length > width + 14.0:
        places += [(length / 2 - shift, 1.5) for shift in ((length - width) / 3, -(length - width) / 3)]
    if not inside:
        places += [(length + _ARROW_MM + 2.0 + width / 2, 4.0), (-_ARROW_MM - 2.0 - width / 2, 5.0)]
    lines = _strokes(dimension, (ux, uy), offset, length)
    for along, more in places:
        center = (at[0] + ux * along, at[1] + uy * along)
        lift = _LIFT_MM
        label = replace(
            dimension.label,
            x_mm=center[0] - sin(turn * pi / 180.0) * lift,
            y_mm=center[1] + cos(turn * pi / 180.0) * lift,
            anchor="middle",
            rotation_deg=turn,
        )
        strokes = [*lines, *_dimension_line(at, (ux, uy), length, reach=along, width=width, inside=inside)]
        shapes: tuple[Shape, ...] = (*strokes, *_arrows(at, (ux, uy), length, inside=inside or length >= 7.0), label)
        boxes = tuple(stroke_box((s.x1_mm, s.y1_mm), (s.x2_mm, s.y2_mm), width_mm=0.2) for s in strokes)
        yield Item(shapes, (box_of(label),), boxes, cost + more)


def _strokes(dimension: Dimension, u: Point, offset: float, length: float) -> list[Line]:
    """Return the two extension lines, each starting past the pipe where it lies under them."""
    sign = 1.0 if offset > 0 else -1.0
    n = (-u[1] * sign, u[0] * sign)
    far = abs(offset) + _GAP_MM
    begins = [min(skip, far - 1.0) for skip in dimension.skips_mm]
    return [
        Line(p[0] + n[0] * begin, p[1] + n[1] * begin, p[0] + n[0] * far, p[1] + n[1] * far, "dim")
        for p, begin in zip((dimension.start, dimension.end), begins, strict=True)
    ]


def _dimension_line(at: Point, u: Point, length: float, *, reach: float, width: float, inside: bool) -> list[Line]:
    """Return the line between the extension lines, drawn on under a label that stands past them."""
    low, high = 0.0, length
    if not inside:
        low, high = min(0.0, reach - width / 2), max(length, reach + width / 2)
        if length < 7.0:
            low, high = min(low, -_ARROW_MM - 1.5), max(high, length + _ARROW_MM + 1.5)
    return [Line(at[0] + u[0] * low, at[1] + u[1] * low, at[0] + u[0] * high, at[1] + u[1] * high, "dim")]


def _arrows(at: Point, u: Point, length: float, *, inside: bool) -> tuple[Shape, ...]:
    toward = atan2(u[1], u[0]) * 180.0 / pi
    first, last = at, (at[0] + u[0] * length, at[1] + u[1] * length)
    back = 180.0 if inside else 0.0
    return (
        arrowhead(first, toward_deg=toward + back, length_mm=_ARROW_MM),
        arrowhead(last, toward_deg=toward + 180.0 - back, length_mm=_ARROW_MM),
    )


def _readable_deg(turn: float) -> float:
    """Turn words so that they read from below or from the right."""
    turn = (turn + 180.0) % 360.0 - 180.0
    if turn > 90.0 + 1e-6:
        return turn - 180.0
    if turn <= -90.0 + 1e-6:
        return turn + 180.0
    return turn
