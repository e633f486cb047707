"""Writes PDF operators straight into a page: short numbers, so that a page of a packet stays small and quick.

reportlab's own calls write numbers to six places and set leading and line ends that nobody uses here.
"""

from collections.abc import Sequence
from typing import Literal

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pdfgeom import bezierArc

from geometry.drawing.shapes import Point

Paint = Literal["S", "s", "f"]  # stroke, close and stroke, fill: the operators' own letters


def short(value: float) -> str:
    """Write a number to a thousandth (of a millimeter, on our pages) without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"", "-0"} else text


def text(canvas: Canvas, x: float, y: float, words: str, *, font: str, size: float, turned: Point = (1.0, 0.0)) -> None:
    """Write printable words at a place; ``turned`` is the direction of their line."""
    face = pdfmetrics.getFont(font)
    c, s = turned
    if s:
        place = f"{short(c)} {short(s)} {short(-s)} {short(c)} {short(x)} {short(y)} Tm"
    else:
        place = f"{short(x)} {short(y)} Td"
    shown = " ".join(
        f"{face.getSubsetInternalName(subset, canvas._doc)} {short(size)} Tf ({canvas._escape(codes)}) Tj"
        for subset, codes in face.splitString(words, canvas._doc)
    )
    canvas._code.append(f"BT {place} {shown} ET")


def line(canvas: Canvas, x1: float, y1: float, x2: float, y2: float) -> None:
    """Stroke a straight line with the pen that was taken."""
    canvas._code.append(f"{short(x1)} {short(y1)} m {short(x2)} {short(y2)} l S")


def polyline(canvas: Canvas, points: Sequence[Point], *, paint: Paint) -> None:
    """Stroke or fill straight lines through points."""
    steps = [f"{short(x)} {short(y)} {'l' if at else 'm'}" for at, (x, y) in enumerate(points)]
    canvas._code.append(f"{' '.join(steps)} {paint}")


def arc(canvas: Canvas, x: float, y: float, radius: float, *, start_deg: float, sweep_deg: float, paint: Paint) -> None:
    """Stroke or fill part of a circle, or the whole of it."""
    curves = bezierArc(x - radius, y - radius, x + radius, y + radius, start_deg, sweep_deg)
    steps = [f"{short(curves[0][0])} {short(curves[0][1])} m"]
    steps += [f"{' '.join(map(short, curve[2:]))} c" for curve in curves]
    canvas._code.append(f"{' '.join(steps)} {paint}")


def rectangle(canvas: Canvas, x: float, y: float, width: float, height: float, *, paint: Paint) -> None:
    """Stroke or fill a box."""
    canvas._code.append(f"{short(x)} {short(y)} {short(width)} {short(height)} re {paint}")


def pen(canvas: Canvas, width: float) -> None:
    """Take a pen of a width."""
    canvas._code.append(f"{short(width)} w")


def dashes(canvas: Canvas, lengths: Sequence[float]) -> None:
    """Break the pen's lines into dashes; none makes them whole again."""
    canvas._code.append(f"[{' '.join(map(short, lengths))}] 0 d")


def gray(canvas: Canvas, level: float) -> None:
    """Fill with a gray from here on; 0 is black."""
    canvas._code.append(f"{short(level)} g")
