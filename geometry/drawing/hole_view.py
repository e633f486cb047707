"""The hole's full-size template, to lay on the top of the main."""

from geometry.drawing.labels import broken
from geometry.drawing.shapes import Drawing, Line, Point, Polyline, Shape, Text, arrowhead
from geometry.lengths import SIXTEENTH, Graduation, format_length
from geometry.wraps import Hole

_NOTE_MM, _NUMBER_MM = 2.1, 3.0
_LEADING = 1.9
_ROOM_MM = 90.0


def hole_view(hole: Hole, *, title: str, graduation: Graduation = SIXTEENTH) -> Drawing:
    """Return a full-size template of the hole, to lay on the top of the main, printed side out.

    Args:
        hole: the hole's outline.
        title: what it is for.
        graduation: how the distances are written.

    Returns:
        A drawing in true millimeters, the main's direction up the paper, its left side at the left.
    """
    x0, y0, width, height = _hole_frame(hole)
    up = 1.0 if hole.toward_crotch_along_main else -1.0

    def place(around: float, along: float) -> Point:
        return x0 - around, y0 + up * along

    shapes: list[Shape] = [Polyline(tuple(place(x, y) for x, y in hole.curve_mm), "cut", closed=True)]
    cx, cy = place(hole.center_around_mm, 0.0)
    reach = hole.length_mm / 2 + 8.0
    shapes += [
        Line(x0, _hole_foot(hole), x0, height - 9.0, "center"),
        Line(cx - hole.width_mm / 2 - 8.0, cy, cx + hole.width_mm / 2 + 8.0, cy, "center"),
    ]
    if abs(cx - x0) > 1.0:
        shapes.append(Line(cx, cy - reach, cx, cy + reach, "center"))
    for point in hole.points:
        x, y = place(point.around_mm, point.along_mm)
        shapes.append(Polyline(_tick(x, y), "ink", closed=True))
        dx, dy = x - cx, y - cy
        size = (dx * dx + dy * dy) ** 0.5 or 1.0
        shapes.append(
            Text(x + dx / size * 3.4, y + dy / size * 3.4 - 1.1, str(point.number), 2.2, "middle", style="figure")
        )
    shapes += _hole_words(hole, title, graduation, (x0, height))
    return Drawing(width, height, tuple(shapes), title, "Full size: print at 100 %", "Printed side out")


def hole_center_at(hole: Hole) -> Point:
    """Return where the main's top line meets the branch's center on the drawing, in mm from the lower left corner."""
    x0, y0, _, _ = _hole_frame(hole)
    return x0, y0


def _hole_frame(hole: Hole) -> tuple[float, float, float, float]:
    rights = [-x for x, _ in hole.curve_mm]
    up = 1.0 if hole.toward_crotch_along_main else -1.0
    ups = [up * y for _, y in hole.curve_mm]
    left, right = min(*rights, 0.0) - 14.0, max(*rights, 0.0) + 14.0
    width = max(right - left, 100.0)
    foot = _hole_foot(hole)
    return -left + (width - (right - left)) / 2, foot + 9.0 - min(ups), width, foot + 9.0 + max(ups) - min(ups) + 18.0


def _hole_foot(hole: Hole) -> float:
    return (
        2.0
        + (2 + sum(len(broken(words, height_mm=_NOTE_MM, room_mm=_ROOM_MM)) for words in hole.directions))
        * _NOTE_MM
        * _LEADING
    )


def _hole_words(hole: Hole, title: str, graduation: Graduation, corner: Point) -> list[Shape]:
    x0, height = corner
    size = f"Hole {format_length(hole.length_mm, graduation=graduation)} along, "
    size += f"{format_length(hole.width_mm, graduation=graduation)} around the main."
    notes = [f"{title}. Printed side out.", size]
    lines = notes + [part for words in hole.directions for part in broken(words, height_mm=_NOTE_MM, room_mm=_ROOM_MM)]
    top = _hole_foot(hole) - 1.0
    shapes: list[Shape] = [
        Text(3.0, top - _NOTE_MM - row * _NOTE_MM * _LEADING, words, _NOTE_MM) for row, words in enumerate(lines)
    ]
    shapes += [
        arrowhead((x0, height - 2.0), toward_deg=90.0, length_mm=5.0),
        Text(x0 + 3.0, height - 6.0, "ALONG THE MAIN", _NUMBER_MM, style="figure"),
    ]
    return shapes


def _tick(x: float, y: float) -> tuple[Point, ...]:
    return ((x - 0.4, y), (x, y + 0.4), (x + 0.4, y), (x, y - 0.4))
