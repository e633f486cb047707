"""One table of pens: what each style word looks like, for every renderer."""

from dataclasses import dataclass
from typing import Literal

from geometry.drawing.shapes import Style

CAP_HEIGHT = 0.7  # height of a capital letter as a part of the font size, Barlow Semi Condensed
STACKED_SIZE = 0.62  # height of a stacked fraction's figures as a part of the whole figures' height


@dataclass(frozen=True, slots=True)
class Pen:
    """How a style is drawn: line width, dashes, filling, and the font's weight for words."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    fill: Literal["none", "ink", "paper"] = "none"
    weight: Literal[500, 600] = 500


# Line widths follow the thick-to-thin 2:1 habit of drafting (common practice, no source).
PENS: dict[Style, Pen] = {
    "edge": Pen(0.5),
    "thin": Pen(0.25),
    "hidden": Pen(0.25, (2.0, 1.0)),
    "center": Pen(0.18, (7.0, 1.2, 1.4, 1.2)),
    "dim": Pen(0.18),
    "weld": Pen(0.7),
    "hatch": Pen(0.13),
    "cut": Pen(0.35),
    "grid": Pen(0.1),
    "ink": Pen(0.0, fill="ink"),
    "paper": Pen(0.0, fill="paper"),
    "note": Pen(0.0, fill="ink"),
    "figure": Pen(0.0, fill="ink", weight=600),
    "mark": Pen(0.0, fill="ink", weight=600),
}


def font_size_mm(height_mm: float) -> float:
    """Return the font size whose capitals are this high."""
    return height_mm / CAP_HEIGHT
