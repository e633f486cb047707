"""The turnaround report: one sentence, the figures with their counts, charts, late spools, forecast, definitions."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, table_block, words_block
from cutlists.sheets.fonts import CAP_HEIGHT, FIGURE, wrap
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.table import Column
from geometry.drawing.shapes import Drawing

CHART_WIDTH_MM = 188.0  # a chart of this width is printed at its own size


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportFigure:
    """One big figure, what it is, and what it counts."""

    value: str
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportTable:
    """A table of words: names of the columns, which of them are figures, rows."""

    title: str
    names: tuple[str, ...]
    figures: tuple[bool, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnaroundSheet:
    """The report as of a moment; all words and figures come from the turnaround's own functions."""

    heading: Heading
    as_of: str
    sentence: str
    figures: tuple[ReportFigure, ...]
    charts: tuple[Drawing, ...]
    tables: tuple[ReportTable, ...]
    forecast: tuple[str, ...]
    definitions: tuple[str, ...]


def write_turnaround(out: BinaryIO, sheet: TurnaroundSheet, *, paper: Paper = LETTER) -> int:
    """Write the report; returns the number of pages."""
    body = body_of(paper)
    blocks = [_sentence(sheet, body)]
    blocks += [_figures(sheet.figures[at : at + 4], body) for at in range(0, len(sheet.figures), 4)]
    blocks += [_chart(chart, body) for chart in sheet.charts]
    for table in sheet.tables:
        blocks.append(table_block(_columns(table), table.rows, body=body, least=6.6, text=2.8, title=table.title))
    if sheet.forecast:
        blocks.append(words_block(sheet.forecast, body=body, text=2.8, title="Forecast", bullet="·"))
    if sheet.definitions:
        blocks.append(words_block(sheet.definitions, body=body, text=2.4, title="What is counted", bullet="·"))
    leaves = set_pages(blocks, body)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Turnaround", mark="", leaves=leaves)


def _columns(table: ReportTable) -> tuple[Column, ...]:
    """Give the last column of words the room that is left."""
    widths = [
        max(len(name), *(len(row[at]) for row in table.rows), 4) if table.rows else len(name)
        for at, name in enumerate(table.names)
    ]
    return tuple(
        Column(name, min(max(width, 6), 40), "end" if figure else "start", heavy=figure)
        for name, width, figure in zip(table.names, widths, table.figures, strict=True)
    )


def _sentence(sheet: TurnaroundSheet, body: Body) -> Block:
    lines = wrap(sheet.sentence, font=FIGURE, size_mm=5.4 / CAP_HEIGHT, room_mm=body.width, most_lines=3)

    def draw(page: Page, top: float) -> None:
        for number, line in enumerate(lines):
            page.bold(body.left, top - 6.4 - 8.6 * number, line, 5.4, room=body.width)
        page.words(body.left, top - 2.6 - 8.6 * len(lines) - 2.4, f"as of {sheet.as_of}", 2.6, room=body.width)

    return Block(8.6 * len(lines) + 6.0, draw)


def _figures(figures: tuple[ReportFigure, ...], body: Body) -> Block:
    each = body.width / 4

    def draw(page: Page, top: float) -> None:
        for at, figure in enumerate(figures):
            left = body.left + at * each
            page.box(left, top - 19, each - 3, 19, line=0.3)
            page.words(left + 2, top - 4.2, figure.name, 2.3, room=each - 7)
            page.bold(left + 2, top - 12.2, figure.value, 6.0, room=each - 7)
            page.words(left + 2, top - 16.8, figure.note, 2.1, room=each - 7)

    return Block(19.0, draw)


def _chart(chart: Drawing, body: Body) -> Block:
    """Return a chart, which says its own title, as large as a page allows."""
    scale = min(1.0, body.width / chart.width_mm, (body.top - body.bottom) / chart.height_mm)
    height = scale * chart.height_mm

    def draw(page: Page, top: float) -> None:
        page.drawing(chart, body.left, top - height, width=body.width, height=height)

    return Block(height, draw)
