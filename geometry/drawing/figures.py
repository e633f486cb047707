"""Lengths and degrees as labels of a drawing."""

from geometry.drawing.shapes import Anchor, StackedLength
from geometry.lengths import Graduation, format_length, split_feet_inches


def stacked_length(
    length_mm: float,
    graduation: Graduation,
    *,
    height_mm: float,
    prefix: str = "",
    at: tuple[float, float] = (0.0, 0.0),
    anchor: Anchor = "middle",
) -> StackedLength:
    """Return a length as a label with its fraction stacked, or in plain mm where the graduation is metric.

    >>> from geometry.lengths import SIXTEENTH
    >>> stacked_length(1023.9375, SIXTEENTH, height_mm=3.0, prefix="A ").spoken
    'A 3\\' 4-5/16"'
    """
    x, y = at
    if graduation.denominator == 0:
        return StackedLength(x, y, prefix, format_length(length_mm, graduation=graduation), 0, 0, "", height_mm, anchor)
    parts = split_feet_inches(length_mm, denominator=graduation.denominator)
    whole = "-" if parts.negative else ""
    if parts.feet:
        whole += f"{parts.feet}' "
    if parts.inches or parts.feet or not parts.numerator:
        whole += str(parts.inches)
    under = parts.denominator if parts.numerator else 0
    return StackedLength(x, y, prefix, whole, parts.numerator, under, '"', height_mm, anchor)


def degrees_text(degrees: float) -> str:
    """Write degrees to a quarter, the best that a jig gives, without idle zeros.

    >>> degrees_text(52.51), degrees_text(38.0)
    ('52.5°', '38°')
    """
    return f"{round(degrees * 4.0) / 4.0:.2f}".rstrip("0").rstrip(".") + "°"
