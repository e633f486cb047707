"""Blocks set one below the other: each is drawn whole, and goes to the next page where it doesn't fit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cutlists.sheets.cautions import cautions_height, draw_cautions
from cutlists.sheets.fonts import CAP_HEIGHT, TEXT, wrap
from cutlists.sheets.frame import Body, Leaf
from cutlists.sheets.page import Page
from cutlists.sheets.table import HEAD_ROW_MM, Cell, Column, draw_head, draw_row, row_height

GAP_MM = 3.0


@dataclass(frozen=True, slots=True)
class Block:
    """Something of a known height; ``draw`` gets the page and the y of the block's top.

    ``split`` gives the part that fits a room and the rest, or nothing where not even a beginning fits.
    """

    height: float
    draw: Callable[[Page, float], None]
    split: "Callable[[float], tuple[Block, Block] | None]" = lambda _: None


def set_pages(blocks: Sequence[Block], body: Body, *, gap: float = GAP_MM) -> list[Leaf]:
    """Return the pages that the blocks fill, in order."""
    pages: list[list[tuple[Block, float]]] = [[]]
    y = body.top
    waiting = list(reversed(blocks))
    while waiting:
        block = waiting.pop()
        room = y - body.bottom + 1e-6
        if block.height > room:
            parts = block.split(room)
            if parts:
                block, rest = parts
                waiting.append(rest)
            elif pages[-1]:
                pages.append([])
                y = body.top
                waiting.append(block)
                continue
        pages[-1].append((block, y))
        y -= block.height + gap
    return [_leaf(placed) for placed in pages]


def _leaf(placed: list[tuple[Block, float]]) -> Leaf:
    def draw(page: Page) -> None:
        for block, top in placed:
            block.draw(page, top)

    return draw


@dataclass(frozen=True, slots=True)
class _Table:
    columns: Sequence[Column]
    rows: Sequence[Sequence[Cell]]
    heights: Sequence[float]
    body: Body
    text: float
    title: str

    @property
    def band(self) -> float:
        """Height of the title and the head row."""
        return (5.0 if self.title else 0.0) + HEAD_ROW_MM - 1

    def block(self) -> Block:
        return Block(self.band + sum(self.heights), self.draw, self.split)

    def draw(self, page: Page, top: float) -> None:
        body = self.body
        if self.title:
            page.bold(body.left, top - 3.6, self.title.upper(), 2.8, room=body.width)
        y = draw_head(page, self.columns, x=body.left, top=top - self.band + HEAD_ROW_MM - 1, width=body.width)
        for row, height in zip(self.rows, self.heights, strict=True):
            y = draw_row(page, self.columns, row, x=body.left, top=y, width=body.width, height=height, text=self.text)

    def split(self, room: float) -> tuple[Block, Block] | None:
        used, count = self.band, 0
        while count < len(self.rows) and used + self.heights[count] <= room:
            used += self.heights[count]
            count += 1
        if count == 0 or (count == 1 and len(self.rows) > 2):  # a single row under its head is better off over the page
            return None
        title = self.title and f"{self.title.removesuffix(_OVER)}{_OVER}"
        first = _Table(self.columns, self.rows[:count], self.heights[:count], self.body, self.text, self.title)
        rest = _Table(self.columns, self.rows[count:], self.heights[count:], self.body, self.text, title)
        return first.block(), rest.block()


_OVER = ", continued"


def table_block(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    *,
    body: Body,
    least: float,
    text: float,
    title: str = "",
) -> Block:
    """Return a table that goes on over the page with its head row again."""
    heights = [row_height(columns, row, width=body.width, least=least, text=text) for row in rows]
    return _Table(columns, rows, heights, body, text, title).block()


def words_block(
    texts: Sequence[str], *, body: Body, text: float = 2.8, title: str = "", bullet: str = "", most_lines: int = 4
) -> Block:
    """Return paragraphs, each broken into at most so many lines, as one block."""
    leading, band = 1.75 * text, 5.0 if title else 0.0
    indent = 3.0 if bullet else 0.0
    room = body.width - indent
    broken = [wrap(t, font=TEXT, size_mm=text / CAP_HEIGHT, room_mm=room, most_lines=most_lines) for t in texts]

    def draw(page: Page, top: float) -> None:
        if title:
            page.bold(body.left, top - 3.6, title.upper(), 2.8, room=body.width)
        y = top - band
        for lines in broken:
            if bullet:
                page.words(body.left, y - text - 0.4, bullet, text)
            for line in lines:
                page.words(body.left + indent, y - text - 0.4, line, text, room=room)
                y -= leading
            y -= 0.4 * text

    return Block(band + sum(len(lines) * leading + 0.4 * text for lines in broken), draw)


def caution_blocks(cautions: tuple[str, ...], body: Body) -> list[Block]:
    """Return the cautions' box, or nothing where there are none."""
    if not cautions:
        return []
    height = cautions_height(cautions, room=body.width)

    def draw(page: Page, top: float) -> None:
        draw_cautions(page, cautions, x=body.left, bottom=top - height, room=body.width)

    return [Block(height, draw)]
