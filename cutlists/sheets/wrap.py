"""The full-size wrap template: a page of figures and directions, then the curve tiled over pages at 100 %."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, caution_blocks, set_pages, table_block, words_block
from cutlists.sheets.frame import LETTER, Body, Heading, Leaf, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.table import Cell, Column, Mm
from cutlists.sheets.tiles import Flat, Grid, Tile, draw_tile, lay_out, turned
from cutlists.sheets.wrap_flat import BAND_MM, LEAST_BAND_MM, flat_of_hole, flat_of_wrap
from geometry.wraps import Hole, Wrap


@dataclass(frozen=True, slots=True, kw_only=True)
class WrapSheet:
    """A template for one pipe end, one miter piece, or the hole in the main; ``told`` goes before its directions."""

    heading: Heading
    mark: str
    what: str
    pipe: str
    template: Wrap | Hole
    told: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


_COLUMNS = (
    Column("line", 0.1, "middle", heavy=True),
    Column("degrees", 0.14, "end"),
    Column("around from heel", 0.19, "end", heavy=True),
    Column("mm", 0.12, "end"),
    Column("from girth line", 0.19, "end", heavy=True),
    Column("mm", 0.12, "end"),
    Column("", 0.14),
)
_APART = Column("", 0.06)
SCALE_WORDS = (
    'Print at 100 %, never "fit to page". Measure both test bars, along and up, on every page: 100 mm and 4 in. '
    "If one is off by more than 1/64 in (0.4 mm), throw the page away."
)


def write_wrap(out: BinaryIO, sheet: WrapSheet, *, paper: Paper = LETTER) -> int:
    """Write the template on paper lying on its long side; returns the number of pages."""
    return write_wraps(out, (sheet,), paper=paper)


def write_wraps(out: BinaryIO, sheets: Sequence[WrapSheet], *, paper: Paper = LETTER) -> int:
    """Write the templates of one spool one after the other; returns the number of pages."""
    lying = turned(paper)
    body = body_of(lying)
    leaves = [(sheet.mark, leaf) for sheet in sheets for leaf in _leaves(sheet, body)]
    return write_pages(
        out,
        paper=lying,
        heading=sheets[0].heading,
        title="Wrap template",
        mark=sheets[0].mark,
        marks=[mark for mark, _ in leaves],
        leaves=[leaf for _, leaf in leaves],
        full_size=True,
    )


def _leaves(sheet: WrapSheet, body: Body) -> list[Leaf]:
    template = sheet.template
    grid = lay_out(flat_of(template, tape=sheet.heading.tape, body=body), body)
    return [*set_pages(_blocks(sheet, grid, body), body), *(_leaf(sheet, grid, tile, body) for tile in grid.tiles())]


def flat_of(template: Wrap | Hole, *, tape: str, body: Body) -> Flat:
    """Return a template laid out flat, its clear band narrower where that saves a row of pages."""
    if isinstance(template, Hole):
        return flat_of_hole(template)
    flat = flat_of_wrap(template, tape=tape)
    grid = lay_out(flat, body)
    over = (flat.top - flat.bottom) - grid.height
    if grid.rows > 1 and over <= BAND_MM - LEAST_BAND_MM:
        return flat_of_wrap(template, tape=tape, band_mm=BAND_MM - over - 0.01)
    return flat


def _leaf(sheet: WrapSheet, grid: Grid, tile: Tile, body: Body) -> Leaf:
    return lambda page: draw_tile(page, grid, tile, body=body, what=sheet.what)


def _blocks(sheet: WrapSheet, grid: Grid, body: Body) -> list[Block]:
    template = sheet.template
    blocks = [
        Block(14.0, lambda page, top: _head(page, sheet, grid, body=body, top=top)),
        Block(22.0, lambda page, top: _girth(page, sheet, body=body, top=top)),
        words_block((SCALE_WORDS, *sheet.told, *template.directions), body=body, text=2.6, bullet="·"),
    ]
    blocks.append(_ordinates(template, body) if isinstance(template, Wrap) else _points(template, body))
    blocks += caution_blocks(sheet.cautions, body)
    return blocks


def _head(page: Page, sheet: WrapSheet, grid: Grid, *, body: Body, top: float) -> None:
    page.bold(body.left, top - 5.5, sheet.what, 5.0, room=body.width - 70)
    page.words(body.left, top - 11.5, sheet.pipe, 3.4, room=body.width - 70)
    pages = grid.columns * grid.rows
    words = f"template on {pages} page{'s' if pages > 1 else ''}, {grid.columns} across"
    page.words(body.right, top - 5.5, words, 2.8, anchor="end", room=66)
    if pages > 1:
        page.words(body.right, top - 10.5, "lay the chain-dashed join lines on each other", 2.2, anchor="end", room=66)


def _girth(page: Page, sheet: WrapSheet, *, body: Body, top: float) -> None:
    """Draw the correction box: the girth this template closes at, and the tape's own reading of the pipe."""
    template = sheet.template
    girth = template.girth_mm if isinstance(template, Wrap) else template.main_girth_mm
    page.box(body.left, top - 21.5, body.width, 21.5, line=0.6)
    page.bold(body.left + 2, top - 4.4, "GIRTH", 2.8)
    used = page.length(body.left + 2, top - 14.4, girth, 6.0, room=60)
    page.bold(body.left + used + 6, top - 14.4, f"{girth:.1f} mm", 3.4, room=60)
    x = body.left + body.width * 0.5
    page.words(x, top - 4.4, "tape around this pipe, over the paper", 2.2, room=body.width * 0.28)
    page.line(x, top - 15.5, x + body.width * 0.26, top - 15.5, 0.25)
    words = f"Printed for paper {template.sheet_mm:.2f} mm thick: girth = pi × (outside diameter + paper)."
    page.words(body.left + 2, top - 19.6, words, 2.2, room=body.width * 0.6)
    page.words(
        x + body.width * 0.28,
        top - 15.5,
        f"Off by more than {'1/16 in' if page.tape != '1mm' else '1.5 mm'}: don't use it.",
        2.4,
        room=body.width * 0.21,
    )


def _ordinates(wrap: Wrap, body: Body) -> Block:
    rows = [
        (
            str(o.number),
            f"{o.around_deg:.1f}",
            Mm(o.around_mm),
            f"{o.around_mm:.1f}",
            Mm(o.ordinate_mm),
            f"{o.ordinate_mm:.1f}",
            o.name,
        )
        for o in wrap.ordinates
    ]
    return _halves(_COLUMNS, rows, body)


def _points(hole: Hole, body: Body) -> Block:
    ahead = "crotch" if hole.toward_crotch_along_main else "heel"
    columns = (
        Column("point", 0.12, "middle", heavy=True),
        Column("along, + to the crotch", 0.28, "end", heavy=True),
        Column("mm", 0.14, "end"),
        Column(f"around, + left facing the {ahead}", 0.32, "end", heavy=True),
        Column("mm", 0.14, "end"),
    )
    rows = [
        (str(p.number), Mm(p.along_mm), f"{p.along_mm:.1f}", Mm(p.around_mm), f"{p.around_mm:.1f}") for p in hole.points
    ]
    return _halves(columns, rows, body)


def _halves(columns: tuple[Column, ...], rows: Sequence[tuple[Cell, ...]], body: Body) -> Block:
    """Return a table in two halves side by side, so that its page holds the cautions too."""
    half = (len(rows) + 1) // 2
    right = [*rows[half:], *((("",) * len(columns),) * (2 * half - len(rows)))]
    beside = [(*one, "", *other) for one, other in zip(rows[:half], right, strict=True)]
    return table_block((*columns, _APART, *columns), beside, body=body, least=6.2, text=3.0)
