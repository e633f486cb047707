"""Ruled tables: columns by share of the width, cells as words, lengths, boxes to tick or lines to write on."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import TypeVar

from cutlists.sheets.fonts import CAP_HEIGHT, TEXT, printable, width_mm, wrap
from cutlists.sheets.page import Anchor, Page

HEAD_ROW_MM = 6.0
_PAD = 1.2
_SHRUNK, _SMALL = 0.76, 0.68  # how far one line shrinks before it is broken, and the size of the broken lines
_TALLER = 1.2  # lengths are what is read first
_LEADING, _MOST_LINES = 1.65, 4
_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, its share of the width, where its cells stand, whether they are heavier."""

    name: str
    share: float
    anchor: Anchor = "start"
    heavy: bool = False


@dataclass(frozen=True, slots=True)
class Mm:
    """A cell that is a length, written by the sheet's tape with a stacked fraction."""

    mm: float


class Blank(Enum):
    """A cell left to a pen."""

    TICK = "box to tick"
    LINE = "box to write in"


Cell = str | Mm | Blank


def draw_head(page: Page, columns: Sequence[Column], *, x: float, top: float, width: float) -> float:
    """Draw the columns' names; returns the y below them."""
    for column, left, room in _places(columns, x, width):
        at = {"start": left, "middle": left + room / 2, "end": left + room}[column.anchor]
        page.words(at, top - 3.6, column.name, 2.0, room=room, anchor=column.anchor)
    page.line(x, top - HEAD_ROW_MM + 1, x + width, top - HEAD_ROW_MM + 1, 0.5)
    return top - HEAD_ROW_MM + 1


def draw_row(
    page: Page,
    columns: Sequence[Column],
    cells: Sequence[Cell],
    *,
    x: float,
    top: float,
    width: float,
    height: float,
    text: float,
) -> float:
    """Draw one row and the rule below it; returns the y below."""
    for cell, (column, left, room) in zip(cells, _places(columns, x, width), strict=True):
        _cell(page, cell, column, left=left, room=room, top=top, height=height, text=text)
    page.line(x, top - height, x + width, top - height, 0.15)
    return top - height


def row_height(columns: Sequence[Column], cells: Sequence[Cell], *, width: float, least: float, text: float) -> float:
    """Return how high a row must be for its broken lines."""
    most = max(
        len(_lines(cell, room=room, text=text)) if isinstance(cell, str) and not column.heavy else 1
        for cell, (column, _, room) in zip(cells, _places(columns, 0.0, width), strict=True)
    )
    return max(least, most * _SMALL * text * _LEADING + 1.2) if most > 1 else least


def rows_that_fit(room: float, row_height: float) -> int:
    """Return how many rows fit below a head row."""
    return max(1, int((room - HEAD_ROW_MM) / row_height + 1e-9))


def paged(rows: Sequence[_Row], *, first: int, rest: int) -> list[tuple[_Row, ...]]:
    """Split rows into pages: so many on the first, so many on each other; always at least one page."""
    pages = [tuple(rows[:first])]
    at = first
    while at < len(rows):
        pages.append(tuple(rows[at : at + rest]))
        at += rest
    return pages


def _places(columns: Sequence[Column], x: float, width: float) -> list[tuple[Column, float, float]]:
    whole = sum(column.share for column in columns)
    places = []
    for column in columns:
        wide = width * column.share / whole
        places.append((column, x + _PAD, wide - 2 * _PAD))
        x += wide
    return places


def _cell(
    page: Page, cell: Cell, column: Column, *, left: float, room: float, top: float, height: float, text: float
) -> None:
    base = top - height / 2 - text / 2
    at = {"start": left, "middle": left + room / 2, "end": left + room}[column.anchor]
    if isinstance(cell, Mm):
        tall = max(text, min(_TALLER * text, (height - 1.2) / 1.4))  # a stacked fraction is 1.4 times as high
        page.length(at, top - height / 2 - tall / 2, cell.mm, tall, room=room, anchor=column.anchor)
    elif cell is Blank.TICK:
        side = min(6.0, height - 1.6, room)
        page.box(left + (room - side) / 2, top - (height + side) / 2, side, side, line=0.4)
    elif cell is Blank.LINE:
        for x in (left - _PAD, left + room + _PAD):  # a box of its own: a line would double the row's rule
            page.line(x, top, x, top - height, 0.15)
    elif isinstance(cell, str) and cell:
        _words(page, cell, column, at=at, room=room, base=base, text=text)


def _words(page: Page, cell: str, column: Column, *, at: float, room: float, base: float, text: float) -> None:
    if column.heavy:
        page.bold(at, base, cell, text, room=room, anchor=column.anchor)
        return
    lines = _lines(cell, room=room, text=text)
    if len(lines) == 1:
        page.words(at, base, lines[0], text, room=room, anchor=column.anchor, smallest=_SMALL * text)
        return
    small = _SMALL * text
    top = base + text / 2 + small * _LEADING * (len(lines) - 1) / 2 - small / 2
    for number, line in enumerate(lines):
        page.words(at, top - number * small * _LEADING, line, small, room=room, anchor=column.anchor)


def _lines(cell: str, *, room: float, text: float) -> tuple[str, ...]:
    """Return the cell's text as one line where shrinking a little does, else broken into small lines."""
    if width_mm(printable(cell), TEXT, _SHRUNK * text / CAP_HEIGHT) <= room:
        return (cell,)
    return wrap(cell, font=TEXT, size_mm=_SMALL * text / CAP_HEIGHT, room_mm=room, most_lines=_MOST_LINES)
