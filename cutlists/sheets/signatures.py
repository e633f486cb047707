"""Lines to sign on, side by side; what was signed on a screen stands on its line."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from cutlists.sheets.blocks import Block
from cutlists.sheets.frame import Body
from cutlists.sheets.page import Page

_EDGE = 1000.0


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature drawn on a screen: what for, its words, and strokes of points from 0 to 1000, y downward."""

    signed_for: str
    words: str
    strokes: tuple[tuple[tuple[float, float], ...], ...]


def draw_signed(page: Page, signed: Signed, *, x: float, y: float, width: float, height: float) -> None:
    """Draw a signature into a box whose lower left corner is at x, y, with its words below."""
    for stroke in signed.strokes:
        points = [(x + width * px / _EDGE, y + height * (1 - py / _EDGE)) for px, py in stroke]
        for (x1, y1), (x2, y2) in pairwise(points):
            page.line(x1, y1, x2, y2, 0.3)


def signature_block(names: Sequence[str], *, body: Body, signed: Sequence[Signed | None] = ()) -> Block:
    """Return a row of signature lines, each with what it is for below it, or with who signed it on a screen."""

    def draw(page: Page, top: float) -> None:
        each = body.width / len(names)
        for at, name in enumerate(names):
            left = body.left + at * each
            one = signed[at] if at < len(signed) else None
            page.line(left, top - 13, left + each - 4, top - 13, 0.25)
            page.words(left, top - 16.6, f"{name.partition(':')[0]}: {one.words}" if one else name, 2.2, room=each - 4)
            if one:
                draw_signed(page, one, x=left, y=top - 12.6, width=min(each - 4, 34), height=12)

    return Block(18.0, draw)
