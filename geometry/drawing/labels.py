"""Measures words and stacked figures: how wide they are, what box they fill, where each part of a fraction goes."""

from math import cos, radians, sin

from geometry.drawing.boxes import Box
from geometry.drawing.font_widths import WIDEST, WIDTHS
from geometry.drawing.pens import PENS, STACKED_SIZE, font_size_mm
from geometry.drawing.shapes import Anchor, Line, Point, Shape, StackedLength, Style, Text

_DROP = 0.3  # part of the capital height that a descender may hang below the baseline
_RISE = 1.08  # quotes and brackets rise a little over a capital
_FRACTION_DROP, _FRACTION_RISE = 0.2, 1.2
_SIDE = 0.12  # clear space at each end of a fraction, in whole heights
_ANCHOR_SHARE: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}


def text_width_mm(text: str, *, height_mm: float, style: Style = "note") -> float:
    """Return how wide a line of words is, without kerning."""
    widths = WIDTHS[PENS[style].weight]
    return sum(widths.get(character, WIDEST) for character in text) * font_size_mm(height_mm) / 1000


def stacked_width_mm(label: StackedLength) -> float:
    """Return how wide a length with its stacked fraction is."""
    lead = text_width_mm(label.prefix + label.whole, height_mm=label.height_mm, style=label.style)
    tail = text_width_mm(label.suffix, height_mm=label.height_mm, style=label.style)
    return lead + _fraction_width(label) + tail


def _fraction_width(label: StackedLength) -> float:
    if not label.denominator:
        return 0.0
    small = label.height_mm * STACKED_SIZE
    bar = max(text_width_mm(str(n), height_mm=small, style=label.style) for n in (label.numerator, label.denominator))
    return bar + 2 * _SIDE * label.height_mm


def stacked_parts(label: StackedLength) -> tuple[Text | Line, ...]:
    """Return a stacked length as plain words and the fraction's bar, for a renderer."""
    h, style = label.height_mm, label.style
    at = -_ANCHOR_SHARE[label.anchor] * stacked_width_mm(label)
    parts: list[Text | Line] = []

    def words(text: str, along: float, up: float, height: float, anchor: Anchor = "start") -> None:
        x, y = _turned((along, up), label)
        parts.append(Text(x, y, text, height, anchor, label.rotation_deg, style))

    lead = label.prefix + label.whole
    if lead:
        words(lead, at, 0.0, h)
        at += text_width_mm(lead, height_mm=h, style=style)
    if label.denominator:
        width, small = _fraction_width(label), h * STACKED_SIZE
        words(str(label.numerator), at + width / 2, 0.5 * h + 0.1 * h, small, "middle")
        words(str(label.denominator), at + width / 2, 0.5 * h - 0.1 * h - small, small, "middle")
        (x1, y1), (x2, y2) = (_turned((at + d, 0.5 * h), label) for d in (0.05 * h, width - 0.05 * h))
        parts.append(Line(x1, y1, x2, y2, "thin"))
        at += width
    if label.suffix:
        words(label.suffix, at, 0.0, h)
    return tuple(parts)


def box_of(label: Text | StackedLength) -> Box:
    """Return the box a label fills on the sheet."""
    h = label.height_mm
    if isinstance(label, StackedLength):
        width = stacked_width_mm(label)
        low, high = (-_FRACTION_DROP * h, _FRACTION_RISE * h) if label.denominator else (-_DROP * h, _RISE * h)
    else:
        width = text_width_mm(label.text, height_mm=h, style=label.style)
        low, high = -_DROP * h, _RISE * h
    left = -_ANCHOR_SHARE[label.anchor] * width
    corners = ((left, low), (left + width, low), (left + width, high), (left, high))
    a, b, c, d = (_turned(corner, label) for corner in corners)
    return Box((a, b, c, d))


def boxes_of(shapes: tuple[Shape, ...]) -> tuple[Box, ...]:
    """Return the boxes of all labels among the shapes."""
    return tuple(box_of(shape) for shape in shapes if isinstance(shape, Text | StackedLength))


def broken(words: str, *, height_mm: float, room_mm: float, style: Style = "note") -> tuple[str, ...]:
    """Break words into lines that fit a width; a single longer word stands on its own line.

    >>> broken("bevel after it fits", height_mm=2.1, room_mm=18.0)
    ('bevel after it', 'fits')
    """
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width_mm(longer, height_mm=height_mm, style=style) > room_mm:
            lines.append(word)
        else:
            lines[-1] = longer
    return tuple(lines)


def _turned(local: Point, label: Text | StackedLength) -> Point:
    c, s = cos(radians(label.rotation_deg)), sin(radians(label.rotation_deg))
    return label.x_mm + local[0] * c - local[1] * s, label.y_mm + local[0] * s + local[1] * c
