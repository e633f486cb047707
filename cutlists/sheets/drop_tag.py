"""The tag of a drop: number, pipe, length, heat and rack place, readable from the aisle, its code for the tablet."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.figures import other_length_text, wall_text
from cutlists.sheets.fonts import MM
from cutlists.sheets.frame import LABEL_4X2, LETTER, Body, Heading, Leaf, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.qr import Code
from cutlists.sheets.stream import open_canvas
from geometry.tables.odd_sizes import say_size

_ACROSS, _DOWN = 2, 4  # cards on a sheet to cut apart
_QR_MM = 18.0
_PAD_MM = 2.2


@dataclass(frozen=True, slots=True, kw_only=True)
class DropTag:
    """One drop or bar on the rack. ``heat`` and ``rack`` print a line to write on where they are empty."""

    number: str
    nps: str
    schedule: str
    material: str
    wall_mm: float
    length_mm: float
    heat: str
    rack: str
    came_from: str
    code: Code


@dataclass(frozen=True, slots=True, kw_only=True)
class DropTagSheet:
    """Tags to print together, in the order they hang."""

    heading: Heading
    tags: tuple[DropTag, ...]


def write_drop_tags(out: BinaryIO, sheet: DropTagSheet, *, paper: Paper = LETTER) -> int:
    """Write the tags, one a film label or eight a sheet; returns the number of pages."""
    if paper == LABEL_4X2:
        return _labels(out, sheet)
    body = body_of(paper)
    each = _ACROSS * _DOWN
    cards = [sheet.tags[at : at + each] for at in range(0, len(sheet.tags), each)] or [()]
    leaves = [_leaf(some, sheet.heading, body) for some in cards]
    mark = sheet.tags[0].number if len(sheet.tags) == 1 else ""
    return write_pages(out, paper=paper, heading=sheet.heading, title="Drop tags", mark=mark, leaves=leaves)


def _labels(out: BinaryIO, sheet: DropTagSheet) -> int:
    paper, m = LABEL_4X2, LABEL_4X2.margin_mm
    canvas = open_canvas(out, width=paper.width_mm * MM, height=paper.height_mm * MM, title="Drop tags")
    page = Page(canvas, width_mm=paper.width_mm, height_mm=paper.height_mm)
    for tag in sheet.tags:
        page.start(tape=sheet.heading.tape)
        draw_drop_tag(page, tag, sheet.heading, Body(m, m, paper.width_mm - m, paper.height_mm - m))
        canvas.showPage()
    canvas.save()
    return len(sheet.tags)


def _leaf(tags: Sequence[DropTag], heading: Heading, body: Body) -> Leaf:
    wide, high = body.width / _ACROSS, (body.top - body.bottom) / _DOWN

    def draw(page: Page) -> None:
        for at, tag in enumerate(tags):
            left, top = body.left + at % _ACROSS * wide, body.top - at // _ACROSS * high
            page.box(left, top - high, wide, high, line=0.15)
            room = Body(left + _PAD_MM, top - high + _PAD_MM, left + wide - _PAD_MM, top - _PAD_MM)
            draw_drop_tag(page, tag, heading, room)

    return draw


def draw_drop_tag(page: Page, tag: DropTag, heading: Heading, room: Body) -> None:
    """Draw one tag in its room: the number and the length big, the code beside, pipe, heat and rack below."""
    left, right, top, low = room.left, room.right, room.top, room.bottom
    column = right - _QR_MM - 3.2
    page.banner(left, top, tag.number, 11.5, room=column - left - 1.5, smallest=3.0)
    page.length(left, top - 28.4, tag.length_mm, 11.0, room=column - left - 1.5)
    page.code(tag.code, right - _QR_MM - 0.6, top - _QR_MM - 0.6, _QR_MM)
    middle = right - _QR_MM / 2 - 0.6
    page.words(middle, top - _QR_MM - 4.4, tag.code.typed, 2.0, room=_QR_MM + 2, anchor="middle")
    other = other_length_text(tag.length_mm, page.tape)
    page.words(middle, top - _QR_MM - 8.6, other, 2.4, room=_QR_MM + 2, anchor="middle")
    pipe = f"{say_size(tag.nps)} · {tag.schedule} · {wall_text(tag.wall_mm, heading.units)} wall · {tag.material}"
    page.bold(left, low + 12.2, pipe, 2.8, room=right - left)
    half = (right - left) * 0.62
    _written(page, left, low + 4.6, "HEAT", tag.heat, room=half - 2)
    _written(page, left + half, low + 4.6, "RACK", tag.rack, room=right - left - half)
    came = f"off {tag.came_from} · " if tag.came_from else ""
    page.words(left, low + 0.4, f"{came}{heading.shop} · {heading.printed_at}", 1.7, room=right - left)


def _written(page: Page, x: float, y: float, name: str, text: str, *, room: float) -> None:
    page.words(x, y + 2.4, name, 1.6)
    page.bold(x + 7.5, y, text, 4.2, room=room - 8)
    page.line(x + 7.0, y - 1.3, x + room, y - 1.3, 0.25)
