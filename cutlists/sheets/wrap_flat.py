"""Lays a wrap or a hole out flat: the cut, girth line, numbered lines with their ordinates, heel and throat."""

from math import hypot

from cutlists.sheets.figures import length_text
from cutlists.sheets.tiles import Flat
from geometry.drawing.labels import box_of
from geometry.drawing.shapes import Line, Polyline, Text
from geometry.wraps import Hole, HolePoint, Ordinate, Wrap

BAND_MM = 48.0  # clear paper beyond the deepest cut-back; its straight edge squares the wrap on the pipe
LEAST_BAND_MM = 40.0  # where that saves another row of pages
LAP_MM = 15.0  # to tape the wrap closed
_EDGE_MM, _TICK_MM = 4.0, 2.5
_APART_MM = 1.6  # the girth line is left out where the cut is nearer


def flat_of_wrap(wrap: Wrap, *, tape: str, band_mm: float = BAND_MM) -> Flat:
    """Return the template of a pipe end, or of a miter's middle piece, with its print to be worn outside.

    ``band_mm`` of clear paper lie beyond the deepest cut-back of a pipe end. Numbers that run clockwise for a person
    who looks from the free end toward the cut need the cut edge on top of the sheet; the other way round it lies below.
    """
    if wrap.kind == "miter middle":
        return _middle(wrap, tape=tape)
    up = -1.0 if wrap.clockwise else 1.0
    far = up * (wrap.cut_back_mm + band_mm)
    girth = wrap.girth_mm
    curve = tuple((x, up * y) for x, y in wrap.curve_mm)
    lines: list[Line | Polyline] = [
        Polyline(curve, "cut"),
        *_girth_line(curve, girth + LAP_MM),
        Line(0.0, far, girth + LAP_MM, far, "edge"),
        Line(girth + LAP_MM, 0.0, girth + LAP_MM, far, "thin"),
    ]
    labels: list[Text] = [Text(6.0, -3.0 if up > 0 else 1.2, "girth line", 1.8)]
    for ordinate in (*wrap.ordinates, _seam(wrap)):
        lines.append(_line(ordinate, 0.0, far))
        labels += _words(ordinate, wrap, up=up, tape=tape, value_y=up * (_highest(wrap, ordinate) + 2.6), far=far)
    labels += _edge_words(wrap, up=up, far=far)
    lines += [*map(_clear, _edge_words(wrap, up=up, far=far)), *_arrows(wrap, up=up, far=far)]
    low, high = min(0.0, far), max(0.0, far)
    return Flat(-_EDGE_MM, low - _EDGE_MM, girth + LAP_MM + _EDGE_MM, high + _EDGE_MM, tuple(lines), tuple(labels))


def _girth_line(curve: tuple[tuple[float, float], ...], right: float) -> list[Line | Polyline]:
    """Return the girth line without the stretches where the cut runs along it: there the cut alone is seen."""
    lines: list[Line | Polyline] = []
    start: float | None = None
    for x, y in (*curve, (right, 0.0)):
        apart = abs(y) > _APART_MM or x > curve[-1][0]
        if apart and start is None:
            start = x if x <= curve[-1][0] else curve[-1][0]
        elif not apart and start is not None:
            lines.append(Line(start, 0.0, x, 0.0, "hidden"))
            start = None
    if start is not None:
        lines.append(Line(start, 0.0, right, 0.0, "hidden"))
    return lines


def _seam(wrap: Wrap) -> Ordinate:
    """Return the first line again, where the wrap closes on itself."""
    first = wrap.ordinates[0]
    return Ordinate(first.number, 360.0, first.around_mm + wrap.girth_mm, first.ordinate_mm, first.name)


def _highest(wrap: Wrap, ordinate: Ordinate) -> float:
    """Return how far the cut lies beside a line, as wide as its words are: they must not be sawn through."""
    x, wide = ordinate.around_mm, 5.0
    near = (y for at, y in wrap.curve_mm if x - 1.0 <= at <= x + wide or at <= x + wide - wrap.girth_mm)
    return max(near, default=ordinate.ordinate_mm)


def _line(ordinate: Ordinate, low: float, high: float) -> Line:
    return Line(ordinate.around_mm, low, ordinate.around_mm, high, "edge" if ordinate.name else "grid")


def _words(ordinate: Ordinate, wrap: Wrap, *, up: float, tape: str, value_y: float, far: float) -> tuple[Text, ...]:
    """Return a line's number at the straight edge and its ordinate along it, where lines stand far enough apart."""
    spacing = wrap.girth_mm / len(wrap.ordinates)
    height = min(2.2, 0.36 * spacing)
    if height < 1.2:
        return ()
    x, y = ordinate.around_mm, far - up * 3.0 - (3.0 if up > 0 else 0.0)
    number = Text(x + 0.8, y, str(ordinate.number), min(3.0, 0.4 * spacing))
    value = f"{ordinate.name.upper()} {length_text(ordinate.ordinate_mm, tape)} · {ordinate.ordinate_mm:.1f}".strip()
    along = Text(x + 0.7 + height, value_y, value, height, "start" if up > 0 else "end", 90.0)
    return (number, along)


def _edge_words(wrap: Wrap, *, up: float, far: float) -> list[Text]:
    """Say every so often which edge this is, in the band that no cut reaches."""
    base = far - up * 12.0 - (4.0 if up > 0 else 0.0)
    places = [40.0 + 120.0 * k for k in range(int(wrap.girth_mm // 120.0) + 1)]
    return [
        Text(x + 6.0, base, f"THIS EDGE TO THE {wrap.to_edge.upper()}", 4.0, style="figure")
        for x in places
        if x + 70.0 < wrap.girth_mm
    ]


def _clear(words: Text) -> Polyline:
    """Hide the lines behind words."""
    (x1, y1), _, (x2, y2), _ = box_of(words).corners
    return Polyline(((x1 - 1, y1), (x2 + 1, y1), (x2 + 1, y2), (x1 - 1, y2)), "paper", closed=True)


def _arrows(wrap: Wrap, *, up: float, far: float) -> list[Line | Polyline]:
    """Point at the cut edge beside the words."""
    arrows: list[Line | Polyline] = []
    for words in _edge_words(wrap, up=up, far=far):
        x, tip = words.x_mm - 4.0, words.y_mm + 2.0 - up * 4.0
        arrows.append(Polyline(((x, tip), (x - 2.5, tip + up * 6.0), (x + 2.5, tip + up * 6.0)), "ink", closed=True))
    return arrows


def _middle(wrap: Wrap, *, tape: str) -> Flat:
    """Lay the middle piece of a miter out: the same curve on both sides of the girth line."""
    girth = wrap.girth_mm
    most = max(y for _, y in wrap.curve_mm)
    far = most + 38.0
    lines: list[Line | Polyline] = [
        Polyline(wrap.curve_mm, "cut"),
        Polyline(tuple((x, -y) for x, y in wrap.curve_mm), "cut"),
        Line(0.0, 0.0, girth + LAP_MM, 0.0, "hidden"),
    ]
    girth_words = Text(6.0, 1.4, "girth line, middle of the piece", 1.8)
    labels: list[Text] = [girth_words]
    for ordinate in (*wrap.ordinates, _seam(wrap)):
        lines.append(_line(ordinate, -most - 5.0, far))
        labels += _words(ordinate, wrap, up=1.0, tape=tape, value_y=_highest(wrap, ordinate) + 2.6, far=far)
    lines.append(_clear(girth_words))
    return Flat(
        -_EDGE_MM, -most - 5.0 - _EDGE_MM, girth + LAP_MM + _EDGE_MM, far + _EDGE_MM, tuple(lines), tuple(labels)
    )


def flat_of_hole(hole: Hole) -> Flat:
    """Return the hole in the main, laid out on the main's outside with its print up: left of the main is upward.

    The main runs to the right: toward the crotch, or toward the heel where the branch leans back. The main's top line
    is on the sheet, because it says how far to the side the hole goes.
    """
    way = 1.0 if hole.toward_crotch_along_main else -1.0
    points = tuple((way * along, around) for around, along in hole.curve_mm)
    xs, ys = [x for x, _ in points], [0.0, *(y for _, y in points)]
    edge = 25.0
    left, right, bottom, top = min(xs) - edge, max(xs) + edge, min(ys) - edge, max(ys) + edge
    lines: list[Line | Polyline] = [
        Polyline(points, "cut", closed=True),
        Line(left + 4, 0.0, right - 4, 0.0, "center"),
        Line(0.0, bottom + 4, 0.0, top - 4, "center"),
        *(_tick(hole, p, way) for p in hole.points),
    ]
    to_the_right, to_the_left = ("crotch side", "heel side")[:: int(way)]
    labels = [
        *(_number(hole, p, way) for p in hole.points),
        Text(right - 6, bottom + 8, to_the_right, 2.6, "end"),
        Text(left + 6, bottom + 8, to_the_left, 2.6),
        Text(2.0, top - 8, "around the main", 2.2),
        Text(_clear_of(points, 0.0, left), 1.2, "top of the main", 2.2),
    ]
    if abs(hole.center_around_mm) > _APART_MM:
        lines.append(Line(left + 4, hole.center_around_mm, right - 4, hole.center_around_mm, "center"))
    if abs(hole.center_around_mm) > 6.0:  # clear of the words on the top line
        y = hole.center_around_mm
        labels.append(Text(_clear_of(points, y, left), y + 1.2, "branch center", 2.2))
    return Flat(left, bottom, right, top, tuple(lines), tuple(labels))


def _clear_of(points: tuple[tuple[float, float], ...], y: float, left: float) -> float:
    """Return where words on a level line start: inside the hole it crosses, clear of the numbers, else at the left."""
    crossed = [x for x, at in points if abs(at - y) < 4.0]
    return min(crossed) + 5.0 if crossed else left + 6.0


def _outward(hole: Hole, point: HolePoint, way: float) -> tuple[float, float]:
    """Return the direction away from the middle of the hole, one long."""
    x, y = way * point.along_mm, point.around_mm - hole.center_around_mm
    far = hypot(x, y) or 1.0
    return x / far, y / far


def _tick(hole: Hole, point: HolePoint, way: float) -> Line:
    x, y = _outward(hole, point, way)
    at_x, at_y = way * point.along_mm, point.around_mm
    return Line(at_x, at_y, at_x + _TICK_MM * x, at_y + _TICK_MM * y, "thin")


def _number(hole: Hole, point: HolePoint, way: float) -> Text:
    """Return a point's number outside the hole, clear of the cut and beside the center lines."""
    x, y = _outward(hole, point, way)
    beside = 1.9 if abs(x) < 0.05 or abs(y) < 0.05 else 0.0
    at = (way * point.along_mm + (_TICK_MM + 2.4) * x, point.around_mm + (_TICK_MM + 2.4) * y - 1.1)
    return Text(at[0] + beside * (abs(x) < 0.05), at[1] + beside * (abs(y) < 0.05), str(point.number), 2.2, "middle")
