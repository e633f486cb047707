"""The load list for the galvanizer: totals first, then rack by rack by stamped tag, boxes OUT and BACK."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.cautions import cautions_height, draw_cautions
from cutlists.sheets.figures import (
    count_text,
    envelope_text,
    length_text,
    printed_weight,
    unit_weight_text,
    weight_text,
)
from cutlists.sheets.frame import LETTER, Body, Heading, Leaf, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.qr import Code
from cutlists.sheets.signatures import Signed, draw_signed
from cutlists.sheets.table import Blank, Cell, Column, Mm, draw_head, draw_row, row_height

TAG_CHECK = 97  # a copied list whose tags add up to another remainder is not the same list


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadLine:
    """One spool on the truck, by its stamped tag; the envelope is what it needs of the kettle.

    By size, longer leg and check dimension a spool is found again that has lost its tag.
    """

    tag: str
    nps: str
    longer_leg_mm: float
    check_mm: float
    length_mm: float
    width_mm: float
    height_mm: float
    black_kg: float
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Rack:
    """A rack of the truck, in loading order."""

    name: str
    lines: tuple[LoadLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSheet:
    """A load; every total is of the printed lines."""

    heading: Heading
    load: str
    galvanizer: str
    zinc: str
    back_by: str
    truck: str
    racks: tuple[Rack, ...]
    cautions: tuple[str, ...] = ()
    code: Code | None = None
    code_until: str = ""
    signed: tuple[Signed, ...] = ()

    @property
    def lines(self) -> tuple[LoadLine, ...]:
        """Every line, in loading order."""
        return tuple(line for rack in self.racks for line in rack.lines)

    @property
    def black(self) -> float:
        """The black weight in the sheet's unit: the sum of the weights as printed, so that adding them up agrees."""
        return sum(printed_weight(line.black_kg, self.heading.units) for line in self.lines)

    @property
    def tag_sum(self) -> int:
        """The sum of the tags; a spool without its tag yet adds nothing."""
        return sum(int(line.tag) for line in self.lines if line.tag.isascii() and line.tag.isdigit())


_COLUMNS = (
    Column("tag", 0.1, heavy=True),
    Column("NPS", 0.06, heavy=True),
    Column("longer leg", 0.13, "end"),
    Column("check C", 0.13, "end"),
    Column("envelope", 0.16, "end"),
    Column("black", 0.095, "end", heavy=True),
    Column("notes", 0.205),
    Column("OUT", 0.06, "middle"),
    Column("BACK", 0.06, "middle"),
)
_ROW, _TEXT, _RACK, _TOTALS, _SIGN = 9.6, 3.5, 8.0, 42.0, 46.0
_SIGNED_AT = {"handed over": "in: galvanizer", "back": "back: driver"}
Strip = tuple[Rack, LoadLine | None]


def write_load_list(out: BinaryIO, sheet: LoadSheet, *, paper: Paper = LETTER) -> int:
    """Write the list; returns the number of pages."""
    body = body_of(paper)
    last = _SIGN + cautions_height(sheet.cautions, room=body.width) + 3
    pages = _pages(sheet, body, last=last)

    def leaf(number: int, strips: Sequence[Strip]) -> Leaf:
        def draw(page: Page) -> None:
            top = body.top
            if number == 0:
                _totals(page, sheet, body)
                top -= _TOTALS
            _rows(page, sheet, strips, body=body, top=top)
            if number == len(pages) - 1:
                _signatures(page, sheet, body)

        return draw

    leaves = [leaf(number, strips) for number, strips in enumerate(pages)]
    mark = f"Load {sheet.load}"
    return write_pages(out, paper=paper, heading=sheet.heading, title="Load list", mark=mark, leaves=leaves)


def _pages(sheet: LoadSheet, body: Body, *, last: float) -> list[list[Strip]]:
    """Fill pages with racks and lines; the signatures' room is kept on the last."""
    strips: list[Strip] = []
    for rack in sheet.racks:
        strips.append((rack, None))
        strips += [(rack, line) for line in rack.lines]
    pages: list[list[Strip]] = [[]]
    room = body.top - body.bottom - _TOTALS - 6
    for at, strip in enumerate(strips):
        need = _RACK if strip[1] is None else _height(sheet, strip[1], body.width)
        keep = _ROW if strip[1] is None else 0.0  # a rack's name never stands alone at the foot
        if need + keep > room:
            pages.append([(strip[0], None)] if strip[1] is not None else [])
            room = body.top - body.bottom - 6 - (_RACK if strip[1] is not None else 0)
        pages[-1].append(strip)
        room -= need
        if at == len(strips) - 1 and room < last:
            pages.append([])
    return pages


def _totals(page: Page, sheet: LoadSheet, body: Body) -> None:
    units = sheet.heading.units
    lines = sheet.lines
    longest = max(lines, key=lambda line: line.length_mm, default=None)
    heaviest = max(lines, key=lambda line: line.black_kg, default=None)
    x, top = body.left, body.top
    room = body.width - (36 if sheet.code else 0)
    counts = f"{count_text(len(lines), 'spool')} · {count_text(len(sheet.racks), 'rack')}"
    page.bold(x, top - 7.5, f"{counts} · {unit_weight_text(sheet.black, units)} black", 6.5, room=room)
    if longest and heaviest:
        words = (
            f"longest {length_text(longest.length_mm, page.tape)} ({_tag(longest)}) · "
            f"heaviest {weight_text(heaviest.black_kg, units)} ({_tag(heaviest)})"
        )
        page.bold(x, top - 14.5, words, 3.4, room=room)
    page.words(x, top - 21, " · ".join(t for t in (f"to {sheet.galvanizer}", sheet.zinc) if t), 3.2, room=room)
    _or_line(page, "needed back by", sheet.back_by, x=x, y=top - 27, room=room / 2 - 4)
    _or_line(page, "truck", sheet.truck, x=x + room / 2, y=top - 27, room=room / 2)
    page.words(
        x,
        top - 33.5,
        f"tag check: tags add up to {sheet.tag_sum}, over {TAG_CHECK} leaves {sheet.tag_sum % TAG_CHECK}",
        2.8,
        room=room,
    )
    if sheet.code:
        page.code(sheet.code, body.right - 28, top - 28, 28)
        page.words(body.right, top - 31.6, sheet.code_until, 2.0, anchor="end", room=60)
        page.words(body.right, top - 35, sheet.code.typed, 2.0, anchor="end", room=60)
    page.line(x, top - 37.5, body.right, top - 37.5, 0.5)


def _or_line(page: Page, name: str, text: str, *, x: float, y: float, room: float) -> None:
    """Write what is known behind its name, or a line to write on."""
    used = page.words(x, y, f"{name} {text}".strip(), 3.2, room=room)
    if not text:
        page.line(x + used + 2, y - 0.6, x + room, y - 0.6, 0.25)


def _rows(page: Page, sheet: LoadSheet, strips: Sequence[Strip], *, body: Body, top: float) -> None:
    if not strips:
        return
    x, width = body.left, body.width
    y = draw_head(page, _COLUMNS, x=x, top=top, width=width)
    for rack, line in strips:
        if line is None:
            page.bold(
                x + 1.2, y - 5.6, f"rack {rack.name} · {count_text(len(rack.lines), 'spool')}", 3.4, room=width - 3
            )
            page.line(x, y - _RACK, x + width, y - _RACK, 0.35)
            y -= _RACK
            continue
        cells = _cells(sheet, line)
        height = _height(sheet, line, width)
        y = draw_row(page, _COLUMNS, cells, x=x, top=y, width=width, height=height, text=_TEXT)


def _cells(sheet: LoadSheet, line: LoadLine) -> tuple[Cell, ...]:
    weight = weight_text(line.black_kg, sheet.heading.units)
    size = envelope_text((line.length_mm, line.width_mm, line.height_mm), sheet.heading.units)
    lengths = (Mm(line.longer_leg_mm), Mm(line.check_mm))
    return (line.tag or Blank.LINE, line.nps, *lengths, size, weight, line.notes, Blank.TICK, Blank.TICK)


def _tag(line: LoadLine) -> str:
    return f"tag {line.tag}" if line.tag else line.notes or "no tag"


def _height(sheet: LoadSheet, line: LoadLine, width: float) -> float:
    return row_height(_COLUMNS, _cells(sheet, line), width=width, least=_ROW, text=_TEXT)


def _signatures(page: Page, sheet: LoadSheet, body: Body) -> None:
    x, low = body.left, body.bottom
    if sheet.cautions:
        draw_cautions(page, sheet.cautions, x=x, bottom=low + _SIGN, room=body.width)
    each = body.width / 3
    for row, names in enumerate(
        (("out: shop", "out: driver", "in: galvanizer"), ("back: galvanizer", "back: driver", "back: shop"))
    ):
        y = low + 22 - 20 * row
        for at, name in enumerate(names):
            left = x + at * each
            page.line(left, y + 4, left + each - 4, y + 4, 0.25)
            one = next((s for s in reversed(sheet.signed) if _SIGNED_AT.get(s.signed_for) == name), None)
            page.words(left, y, f"{name}: {one.words if one else 'name, count, date, time'}", 2.0, room=each - 4)
            if one:
                draw_signed(page, one, x=left, y=y + 4.4, width=min(each - 4, 34), height=12)
