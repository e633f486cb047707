"""A bar to scale for the page: what is cut hatched, the next piece solid, the rest outlined, the drop open."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from geometry.drawing.end_pictures import end_picture
from geometry.drawing.shapes import Drawing, Line, Polyline, Shape, Style, Text
from geometry.drawing.svg import to_svg

WIDTH_MM, HEIGHT_MM, LEFT_MM = 150.0, 24.0, 0.6
LOW_MM, HIGH_MM = 7.0, 20.0
TEXT_MM, SMALL_MM, LETTER_MM = 4.2, 3.0, 2.7
HATCH_MM = 1.8


@dataclass(frozen=True, slots=True)
class Part:
    """One stretch of a bar: gone (cut, trimmed, cut wrong), next, planned, or left over."""

    start_u: int
    end_u: int
    state: str
    mark: str


def bar_picture(parts: Sequence[Part], *, total_u: int, title: str) -> SafeString:
    """Return the bar as SVG, its marked end at the left."""
    scale = (WIDTH_MM - 2 * LEFT_MM) / max(1, total_u)
    shapes: list[Shape] = [_box(LEFT_MM, LEFT_MM + total_u * scale, "edge")]
    for part in parts:
        left, right = LEFT_MM + part.start_u * scale, LEFT_MM + part.end_u * scale
        shapes += _part(part, left, right)
    shapes += _marked_end()
    drawing = Drawing(WIDTH_MM, HEIGHT_MM, tuple(shapes), title)
    return mark_safe(to_svg(drawing))  # noqa: S308  the SVG writer escapes every text


def end_svg(prep: str, *, end_right: bool, title: str) -> SafeString:
    """Return the little picture of one end."""
    shapes = end_picture(prep, at=(1.0, 1.5), width_mm=18.0, height_mm=10.0, end_right=end_right)
    return mark_safe(to_svg(Drawing(20.0, 13.0, shapes, title)))  # noqa: S308  as above


def _box(left: float, right: float, style: Style) -> Polyline:
    corners = ((left, LOW_MM), (right, LOW_MM), (right, HIGH_MM), (left, HIGH_MM))
    return Polyline(corners, style, closed=True)


def _part(part: Part, left: float, right: float) -> Iterator[Shape]:
    yield _box(left, right, "ink" if part.state == "next" else "thin")
    if part.state == "gone":
        yield from _hatch(left, right)
        return
    words = _that_fits(part, right - left)
    if words:
        style: Style = "paper" if part.state == "next" else "figure"
        low = (LOW_MM + HIGH_MM - TEXT_MM) / 2
        yield Text((left + right) / 2, low, words, TEXT_MM, anchor="middle", style=style)


def _that_fits(part: Part, wide: float) -> str:
    """Return the mark, its last letter alone, or nothing: never words that run over their piece."""
    for words in (part.mark, part.mark.rpartition("-")[2]):
        if words and len(words) * LETTER_MM + 1.0 <= wide:
            return words
    return ""


def _hatch(left: float, right: float) -> Iterator[Line]:
    high, at = HIGH_MM - LOW_MM, left - (HIGH_MM - LOW_MM)
    while at < right:
        x1, x2 = max(at, left), min(at + high, right)
        if x2 > x1:
            yield Line(x1, LOW_MM + (x1 - at), x2, LOW_MM + (x2 - at), "hatch")
        at += HATCH_MM


def _marked_end() -> Iterator[Shape]:
    yield Line(LEFT_MM, LOW_MM - 3.5, LEFT_MM, LOW_MM, "edge")
    yield Text(LEFT_MM + 1.2, LOW_MM - 5.0, "marked end", SMALL_MM)
