"""The bench list: what one bench builds, grouped by the size it is set up for, with boxes to tick."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.figures import count_text
from cutlists.sheets.frame import LETTER, Body, Heading, Leaf, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.table import HEAD_ROW_MM, Blank, Cell, Column, draw_head, draw_row, row_height


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchLine:
    """One spool waiting at the bench; ``here`` says whether all its pieces lie there, or which is missing."""

    mark: str
    revision: str
    nps: str
    due: str
    here: str
    hours: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Setup:
    """The spools that need the same set-up, one after the other."""

    name: str
    lines: tuple[BenchLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchSheet:
    """One bench, one shift."""

    heading: Heading
    bench: str
    shift: str
    people: str
    setups: tuple[Setup, ...]


_COLUMNS = (
    Column("done", 0.07, "middle"),
    Column("mark", 0.17, heavy=True),
    Column("rev", 0.05, "middle", heavy=True),
    Column("NPS", 0.08, heavy=True),
    Column("due", 0.17),
    Column("pieces here", 0.2),
    Column("hours", 0.08, "end"),
    Column("note", 0.18),
)
_ROW, _TEXT, _SETUP, _TOTALS = 9.2, 3.0, 8.5, 18.0
Strip = tuple[Setup, BenchLine | None]


def write_bench_list(out: BinaryIO, sheet: BenchSheet, *, paper: Paper = LETTER) -> int:
    """Write the list; returns the number of pages."""
    body = body_of(paper)

    def leaf(number: int, strips: Sequence[Strip]) -> Leaf:
        def draw(page: Page) -> None:
            top = body.top
            if number == 0:
                _totals(page, sheet, body)
                top -= _TOTALS
            _rows(page, strips, body=body, top=top)

        return draw

    leaves = [leaf(number, strips) for number, strips in enumerate(_pages(sheet, body))]
    return write_pages(out, paper=paper, heading=sheet.heading, title="Bench list", mark=sheet.bench, leaves=leaves)


def _pages(sheet: BenchSheet, body: Body) -> list[list[Strip]]:
    """Fill pages; a set-up that goes on over the page says its name again."""
    pages: list[list[Strip]] = [[]]
    room = body.top - body.bottom - _TOTALS - HEAD_ROW_MM
    for setup in sheet.setups:
        for line in (None, *setup.lines):
            need = _SETUP + _ROW if line is None else _height(line, body.width)
            if need > room:
                pages.append([] if line is None else [(setup, None)])
                room = body.top - body.bottom - HEAD_ROW_MM - (0 if line is None else _SETUP)
            pages[-1].append((setup, line))
            room -= _SETUP if line is None else need
    return pages


def _totals(page: Page, sheet: BenchSheet, body: Body) -> None:
    lines = [line for setup in sheet.setups for line in setup.lines]
    hours = sum(line.hours for line in lines)
    words = f"{count_text(len(lines), 'spool')} · {hours:.1f} h · {count_text(len(sheet.setups), 'set-up')}"
    page.bold(body.left, body.top - 6, words, 5.0, room=body.width)
    page.words(
        body.left,
        body.top - 12.5,
        " · ".join(text for text in (sheet.shift, sheet.people) if text),
        3.2,
        room=body.width,
    )


def _rows(page: Page, strips: Sequence[Strip], *, body: Body, top: float) -> None:
    x, width = body.left, body.width
    y = draw_head(page, _COLUMNS, x=x, top=top, width=width)
    for setup, line in strips:
        if line is None:
            page.bar(x, y - _SETUP, width, _SETUP, 0.88)
            page.bold(
                x + 1.2,
                y - 5.9,
                f"set up for {setup.name} · {count_text(len(setup.lines), 'spool')}",
                3.4,
                room=width - 3,
            )
            y -= _SETUP
            continue
        height = _height(line, width)
        y = draw_row(page, _COLUMNS, _cells(line), x=x, top=y, width=width, height=height, text=_TEXT)


def _cells(line: BenchLine) -> tuple[Cell, ...]:
    return (Blank.TICK, line.mark, line.revision, line.nps, line.due, line.here, f"{line.hours:.1f}", line.note)


def _height(line: BenchLine, width: float) -> float:
    return row_height(_COLUMNS, _cells(line), width=width, least=_ROW, text=_TEXT)
