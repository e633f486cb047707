"""Full-size wrap templates: the flat sheet around a pipe, its curve, numbered lines, girth line, edges named."""

from dataclasses import dataclass, replace

from geometry.drawing.figures import stacked_length
from geometry.drawing.labels import broken, stacked_width_mm, text_width_mm
from geometry.drawing.shapes import Drawing, Line, Point, Polyline, Shape, StackedLength, Text, arrowhead
from geometry.lengths import MILLIMETER, SIXTEENTH, Graduation, format_length
from geometry.wraps import Ordinate, Wrap

_NOTE_MM, _NUMBER_MM, _FIGURE_MM = 2.1, 3.0, 2.4
_SIDE_MM = 8.0  # clear paper left of the first line
_LAP_MM = 14.0  # past the closing line, to tape down
_LEAST_PITCH_MM = 5.6  # between lines that carry a number
_EDGE_MM = 7.0  # row of words along an edge
_LEADING = 1.9


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Where things stand: left closing line, girth line, highest ordinate, upper end of the lines."""

    x0: float
    y0: float
    top: float
    high: float
    graduation: Graduation


def girth_line_at(wrap: Wrap) -> Point:
    """Return where the girth line meets the first closing line on the drawing, in mm from its lower left corner.

    Every point of the wrap stands at this point plus (around from the left edge, ordinate).
    """
    if wrap.kind == "miter middle":
        return _SIDE_MM, _foot_mm(wrap) + _EDGE_MM + max(y for _, y in wrap.curve_mm) + 2.0
    return _SIDE_MM, _foot_mm(wrap) + _EDGE_MM


def on_sheet(wrap: Wrap, around_mm: float) -> float:
    """Return how far right of the left closing line a place around lies, the printed side out, the free end up.

    Numbers that run clockwise for a person who looks from the free end run to the left on the sheet.
    """
    return wrap.girth_mm - around_mm if wrap.clockwise else around_mm


def wrap_view(wrap: Wrap, *, title: str, graduation: Graduation = SIXTEENTH) -> Drawing:
    """Return a full-size template of a saddle's or a miter's end.

    Args:
        wrap: the developed curve.
        title: what it is for, as ``214-B on 12 in main``.
        graduation: how the ordinates are written.

    Returns:
        A drawing in true millimeters; print it at 100 % only.
    """
    x0, y0 = girth_line_at(wrap)
    girth = wrap.girth_mm
    top = max(y for _, y in wrap.curve_mm)
    high = y0 + top + _body_mm(wrap, graduation)
    sheet = _Sheet(x0, y0, top, high, graduation)
    height, width = high + _EDGE_MM, x0 + girth + _LAP_MM
    shapes: list[Shape] = [
        Line(x0, y0, x0 + girth, y0, "center"),
        *_closing_lines(wrap, sheet),
        *_curves(wrap, x0, y0),
    ]
    for line in wrap.ordinates:
        shapes += _numbered(wrap, line, sheet)
    shapes += _numbered(wrap, wrap.ordinates[0], sheet, again=True)
    if abs(wrap.low_point.ordinate_mm) < 1e-9 and wrap.kind == "saddle":
        low = x0 + on_sheet(wrap, wrap.low_point.around_mm)
        shapes.append(arrowhead((low, y0), toward_deg=90.0, length_mm=2.6))
    shapes += _edge_words(wrap, x0, y0, height)
    shapes += _foot(wrap, title, graduation)
    return Drawing(width, height, tuple(shapes), title, "Full size: print at 100 %", "Printed side out")


def _closing_lines(wrap: Wrap, sheet: _Sheet) -> list[Shape]:
    """Draw the two lines that meet when the sheet is around the pipe, and the lap."""
    low = sheet.y0 - (sheet.top + 2.0 if wrap.kind == "miter middle" else 2.0)
    end = sheet.x0 + wrap.girth_mm
    return [
        Line(sheet.x0, low, sheet.x0, sheet.high, "cut"),
        Line(end, low, end, sheet.high, "cut"),
        Text(end + 9.0, low + 4.0, "LAP: line meets line", _NOTE_MM, "start", 90.0),
    ]


def _curves(wrap: Wrap, x0: float, y0: float) -> list[Shape]:
    points = [(x0 + on_sheet(wrap, x), y) for x, y in wrap.curve_mm]
    shapes: list[Shape] = [Polyline(tuple((x, y0 + y) for x, y in points), "cut")]
    if wrap.kind == "miter middle":
        shapes.append(Polyline(tuple((x, y0 - y) for x, y in points), "cut"))
    return shapes


def _numbered(wrap: Wrap, line: Ordinate, sheet: _Sheet, *, again: bool = False) -> list[Shape]:
    """Draw one numbered line with its ordinate; ``again`` repeats line 0 at the other closing line, number only."""
    x, y0 = sheet.x0 + on_sheet(wrap, line.around_mm), sheet.y0
    if again:
        x += -wrap.girth_mm if wrap.clockwise else wrap.girth_mm
    low = y0 - line.ordinate_mm if wrap.kind == "miter middle" else y0
    shapes: list[Shape] = [Line(x, low, x, sheet.high, "thin" if line.name else "grid")]
    if line.number % _every(wrap):
        return shapes
    shapes.append(Text(x + 0.9, sheet.high - _NUMBER_MM - 0.6, str(line.number), _NUMBER_MM, style="figure"))
    if again:
        return shapes
    label, along = _ordinate_label(line, sheet.graduation), y0 + sheet.top + 1.2
    shapes.append(replace(label, x_mm=x - 0.8, y_mm=along, rotation_deg=90.0))
    if line.name:
        past = along + stacked_width_mm(label) + 0.8
        shapes.append(Text(x - 0.8, past, line.name.upper(), _NOTE_MM, "start", 90.0))
    return shapes


def _every(wrap: Wrap) -> int:
    """Return 1 where every line can carry its number, else 2, 4 or 8 on a small pipe."""
    pitch = wrap.girth_mm / len(wrap.ordinates)
    return next(step for step in (1, 2, 4, 8, 16, 32, 64, 128, 360) if step * pitch >= _LEAST_PITCH_MM)


def _ordinate_label(line: Ordinate, graduation: Graduation) -> StackedLength:
    return stacked_length(line.ordinate_mm, graduation, height_mm=_FIGURE_MM, anchor="start")


def _body_mm(wrap: Wrap, graduation: Graduation) -> float:
    """Return how much paper is kept past the highest point of the curve: room for the longest ordinate and a number."""
    longest = max(
        stacked_width_mm(_ordinate_label(line, graduation)) + text_width_mm(line.name.upper(), height_mm=_NOTE_MM)
        for line in wrap.ordinates
    )
    return longest + _NUMBER_MM + 5.0


def _edge_words(wrap: Wrap, x0: float, y0: float, height: float) -> list[Shape]:
    """Name both edges: which one is cut and what it goes to."""
    cut = f"THIS EDGE TO THE {wrap.to_edge.upper()}"
    other = cut if wrap.kind == "miter middle" else "THIS EDGE TO THE FREE END OF THE PIPE"
    low = _foot_mm(wrap) + 1.5
    return [
        Text(x0 + 6.0, low, cut, _NUMBER_MM, style="figure"),
        arrowhead((x0 + 3.0, low - 0.5), toward_deg=-90.0, length_mm=4.0),
        Text(x0 + 6.0, height - _EDGE_MM + 2.0, other, _NUMBER_MM, style="figure"),
        arrowhead((x0 + 3.0, height - _EDGE_MM + 5.5), toward_deg=90.0, length_mm=4.0),
    ]


def _notes(wrap: Wrap, graduation: Graduation) -> list[str]:
    """Return the sentences under the template, without its title, broken to its width."""

    def both(mm: float) -> str:
        return f"{format_length(mm, graduation=graduation)} ({mm:.1f} mm)" if graduation.denominator else f"{mm:.1f} mm"

    girth = f"Girth {both(wrap.girth_mm)}: outside diameter {wrap.od_mm:.1f} mm"
    girth += f" + sheet {wrap.sheet_mm:g} mm, times pi." if wrap.sheet_mm else ", times pi."
    measured = (
        "Ordinates run both ways from the girth line at the middle of the piece."
        if wrap.kind == "miter middle"
        else "Ordinates run from the girth line, which goes around at the longest tip."
    )
    sentences = (girth, f"{measured} Cut-back {both(wrap.cut_back_mm)}.", *wrap.directions)
    return [part for words in sentences for part in broken(words, height_mm=_NOTE_MM, room_mm=_room(wrap))]


def _foot(wrap: Wrap, title: str, graduation: Graduation) -> list[Shape]:
    name = broken(f"{title}. Printed side out.", height_mm=_NOTE_MM, room_mm=_room(wrap), style="figure")[0]
    top = _foot_mm(wrap) - 1.0
    shapes: list[Shape] = [Text(_SIDE_MM, top - _NOTE_MM, name, _NOTE_MM, style="figure")]
    for row, words in enumerate(_notes(wrap, graduation), start=1):
        shapes.append(Text(_SIDE_MM, top - _NOTE_MM - row * _NOTE_MM * _LEADING, words, _NOTE_MM))
    return shapes


def _room(wrap: Wrap) -> float:
    """Words stay within the first page of a template that is tiled."""
    return min(wrap.girth_mm + _LAP_MM - 2.0, 170.0)


def _foot_mm(wrap: Wrap) -> float:
    rows = max(len(_notes(wrap, SIXTEENTH)), len(_notes(wrap, MILLIMETER))) + 1
    return 2.0 + rows * _NOTE_MM * _LEADING


def measuring_bars(*, at: Point, graduation: Graduation = SIXTEENTH) -> tuple[Shape, ...]:
    """Return the bars to measure before a template is used: 100 mm, or 4 in, across and up the paper.

    Args:
        at: the corner where both bars begin.
        graduation: metric gives 100 mm, else 4 in.
    """
    x, y = at
    size, words = (101.6, "MEASURE: 4 in") if graduation.denominator else (100.0, "MEASURE: 100 mm")
    across = [Line(x, y, x + size, y, "cut"), *(Line(p, y - 1.5, p, y + 1.5, "cut") for p in (x, x + size))]
    up = [Line(x, y, x, y + size, "cut"), *(Line(x - 1.5, q, x + 1.5, q, "cut") for q in (y, y + size))]
    return (
        *across,
        *up,
        Text(x + size / 2, y + 1.2, words, _NOTE_MM, "middle"),
        Text(x - 1.2, y + size / 2, words, _NOTE_MM, "middle", 90.0),
    )
