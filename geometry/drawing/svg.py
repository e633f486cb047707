"""Draws shapes as SVG: exact millimeters, a class per style, no inline style, words that can be read aloud."""

from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from geometry.drawing.labels import stacked_parts
from geometry.drawing.pens import PENS, font_size_mm
from geometry.drawing.shapes import Arc, Drawing, Line, Place, Polyline, Shape, StackedLength, Text


def to_svg(drawing: Drawing, *, standalone: bool = False) -> str:
    """Return the drawing as an SVG element.

    Args:
        drawing: shapes in mm, y upward.
        standalone: True puts the pens' CSS into the file, for a file that travels alone; on a page the static
            style sheet serves, and nothing inline is needed.

    Returns:
        One ``<svg>`` element, width and height in mm, one unit of its viewBox being one mm.

    >>> from geometry.drawing.shapes import Drawing, Line
    >>> to_svg(Drawing(20.0, 10.0, (Line(0, 0, 20, 10, "edge"),), "A line"))[:63]
    '<svg xmlns="http://www.w3.org/2000/svg" class="drawing" width="'
    """
    width, height = _n(drawing.width_mm), _n(drawing.height_mm)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="group" aria-label={quoteattr(_clean(drawing.title))}>'
        f"<title>{escape(_clean(drawing.title))}</title>"
    )
    style = f"<style>{pen_css()}</style>" if standalone else ""
    shapes = "".join(_draw(shape, drawing.height_mm) for shape in drawing.shapes)
    places = "".join(_place(place, drawing.height_mm) for place in drawing.places)
    return f"{head}{style}{shapes}{places}</svg>"


def pen_css() -> str:
    """Return the style sheet that the pens' table stands for."""
    rules = ['.drawing{font-family:"Barlow Semi Condensed",sans-serif;color:#000;background:#fff}']
    for style, pen in PENS.items():
        fill = {"none": "none", "ink": "currentColor", "paper": "var(--paper,#fff)"}[pen.fill]
        rule = f"fill:{fill};"
        if pen.width_mm:
            rule += f"stroke:currentColor;stroke-width:{_n(pen.width_mm)};stroke-linecap:round;stroke-linejoin:round;"
        if pen.dash_mm:
            rule += f"stroke-linecap:butt;stroke-dasharray:{' '.join(map(_n, pen.dash_mm))};"
        if style in {"note", "figure", "mark"}:
            rule += f"font-weight:{pen.weight};"
        rules.append(f".drawing .d-{style}{{{rule[:-1]}}}")
    return "\n".join(rules)


def _n(value: float) -> str:
    """Write a number with a ten-thousandth of a mm and no useless zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _clean(words: str) -> str:
    """Return words without the control characters that XML can't hold."""
    return "".join(c for c in words if c >= " " and not "\x7f" <= c <= "\x9f" and not "\ud800" <= c <= "\udfff")


def _draw(shape: Shape, height: float) -> str:
    if isinstance(shape, Line):
        ends = f'x1="{_n(shape.x1_mm)}" y1="{_n(height - shape.y1_mm)}" '
        ends += f'x2="{_n(shape.x2_mm)}" y2="{_n(height - shape.y2_mm)}"'
        return f'<line class="d-{shape.style}" {ends}/>'
    if isinstance(shape, Arc):
        return _arc(shape, height)
    if isinstance(shape, Polyline):
        tag = "polygon" if shape.closed else "polyline"
        points = " ".join(f"{_n(x)},{_n(height - y)}" for x, y in shape.points)
        return f'<{tag} class="d-{shape.style}" points="{points}"/>'
    if isinstance(shape, StackedLength):
        inner = "".join(_draw(part, height) for part in stacked_parts(shape))
        return f'<g role="img" aria-label={quoteattr(_clean(shape.spoken))}>{inner}</g>'
    return _text(shape, height)


def _place(place: Place, height: float) -> str:
    corner = f'x="{_n(place.x_mm)}" y="{_n(height - place.y_mm - place.height_mm)}"'
    size = f'width="{_n(place.width_mm)}" height="{_n(place.height_mm)}"'
    words = _clean(place.words)
    return (
        f"<a href={quoteattr(_clean(place.address))} aria-label={quoteattr(words)}><title>{escape(words)}</title>"
        f'<rect class="d-place" {corner} {size}/></a>'
    )


def _arc(arc: Arc, height: float) -> str:
    r = _n(arc.radius_mm)
    if abs(arc.sweep_deg) >= 360.0:
        return f'<circle class="d-{arc.style}" cx="{_n(arc.x_mm)}" cy="{_n(height - arc.y_mm)}" r="{r}"/>'
    (x1, y1), (x2, y2) = (
        (arc.x_mm + arc.radius_mm * cos(radians(deg)), height - arc.y_mm - arc.radius_mm * sin(radians(deg)))
        for deg in (arc.start_deg, arc.start_deg + arc.sweep_deg)
    )
    large, sweep = int(abs(arc.sweep_deg) > 180.0), int(arc.sweep_deg < 0.0)
    return f'<path class="d-{arc.style}" d="M{_n(x1)} {_n(y1)}A{r} {r} 0 {large} {sweep} {_n(x2)} {_n(y2)}"/>'


def _text(text: Text, height: float) -> str:
    x, y = _n(text.x_mm), _n(height - text.y_mm)
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    turn = f' transform="rotate({_n(-text.rotation_deg)} {x} {y})"' if text.rotation_deg else ""
    size = _n(font_size_mm(text.height_mm))
    words = escape(_clean(text.text))
    return f'<text class="d-{text.style}" x="{x}" y="{y}" font-size="{size}"{anchor}{turn}>{words}</text>'
