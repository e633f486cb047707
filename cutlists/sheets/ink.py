"""Draws shapes on a page whose unit is the millimeter: full size exact, the same pens as on the screen."""

from math import cos, radians, sin

from reportlab.pdfgen.canvas import Canvas

from cutlists.sheets import operators
from cutlists.sheets.fonts import CAP_HEIGHT, WEIGHTS, printable, width_mm
from geometry.drawing.labels import stacked_parts
from geometry.drawing.pens import PENS
from geometry.drawing.shapes import Arc, Line, Polyline, Shape, StackedLength, Style, Text

_ANCHOR_SHARE = {"start": 0.0, "middle": 0.5, "end": 1.0}


def draw_shapes(canvas: Canvas, shapes: tuple[Shape, ...]) -> None:
    """Draw the shapes, first drawn first; the canvas must be scaled to millimeters."""
    canvas.saveState()
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    last: Style | None = None
    for shape in shapes:
        if isinstance(shape, StackedLength):
            for part in stacked_parts(shape):
                last = _draw(canvas, part, last)
        else:
            last = _draw(canvas, shape, last)
    canvas.restoreState()


def _draw(canvas: Canvas, shape: Line | Arc | Polyline | Text, last: Style | None) -> Style | None:
    """Draw one shape; returns the style whose pen is in hand."""
    if isinstance(shape, Text):
        _text(canvas, shape)
        return last
    fill = PENS[shape.style].fill
    if fill == "none":
        if shape.style != last:
            _take_pen(canvas, shape.style, last)
        _outline(canvas, shape, paint="s" if isinstance(shape, Polyline) and shape.closed else "S")
        return shape.style
    if fill == "paper":
        operators.gray(canvas, 1.0)
    _outline(canvas, shape, paint="f")
    if fill == "paper":
        operators.gray(canvas, 0.0)
    return last


def _outline(canvas: Canvas, shape: Line | Arc | Polyline, *, paint: operators.Paint) -> None:
    if isinstance(shape, Line):
        operators.line(canvas, shape.x1_mm, shape.y1_mm, shape.x2_mm, shape.y2_mm)
    elif isinstance(shape, Arc):
        start, sweep = shape.start_deg, shape.sweep_deg
        operators.arc(canvas, shape.x_mm, shape.y_mm, shape.radius_mm, start_deg=start, sweep_deg=sweep, paint=paint)
    else:
        operators.polyline(canvas, shape.points, paint=paint)


def _take_pen(canvas: Canvas, style: Style, last: Style | None) -> None:
    pen = PENS[style]
    operators.pen(canvas, pen.width_mm)
    if pen.dash_mm or last is None or PENS[last].dash_mm:
        operators.dashes(canvas, pen.dash_mm)


def _text(canvas: Canvas, text: Text) -> None:
    font, size = WEIGHTS[PENS[text.style].weight], text.height_mm / CAP_HEIGHT
    words = printable(text.text)
    back = _ANCHOR_SHARE[text.anchor] * width_mm(words, font, size)
    c, s = (cos(radians(text.rotation_deg)), sin(radians(text.rotation_deg))) if text.rotation_deg else (1.0, 0.0)
    operators.text(canvas, text.x_mm - back * c, text.y_mm - back * s, words, font=font, size=size, turned=(c, s))
