"""A full-size sheet cut into pages: tiles overlap, join lines fall on each other, four test bars a page."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from cutlists.sheets.frame import Body, Paper
from cutlists.sheets.page import Page
from geometry.drawing.labels import box_of
from geometry.drawing.shapes import Line, Polyline, Text

OVERLAP_MM = 14.0
BAR_MM, BAR_INCHES = 100.0, 4  # the test bars
_STRIP_MM = 13.0  # kept free below and at the left for the test bars


@dataclass(frozen=True, slots=True)
class Flat:
    """A flat full-size sheet: its corners, its lines, and the words that a page shows when they fall on it whole."""

    left: float
    bottom: float
    right: float
    top: float
    lines: tuple[Line | Polyline, ...]
    labels: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Tile:
    """One page's part of the flat sheet."""

    column: int
    row: int
    left: float
    bottom: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Grid:
    """How a flat sheet falls on pages; ``left`` and ``bottom`` are where a tile's corner lies on its page."""

    flat: Flat
    columns: int
    rows: int
    width: float
    height: float
    left: float
    bottom: float

    def tiles(self) -> Iterator[Tile]:
        """Yield the tiles from the upper left, along the rows."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield Tile(
                    column,
                    row,
                    self.flat.left + column * (self.width - OVERLAP_MM),
                    self.flat.top - self.height - row * (self.height - OVERLAP_MM),
                    self.width,
                    self.height,
                )


def turned(paper: Paper) -> Paper:
    """Return the paper lying on its long side."""
    return Paper(paper.code, paper.word, paper.height_mm, paper.width_mm, paper.margin_mm)


def lay_out(flat: Flat, body: Body) -> Grid:
    """Return the grid of tiles that covers the flat sheet."""
    left, bottom = body.left + _STRIP_MM, body.bottom + _STRIP_MM
    width, height = body.right - left, body.top - bottom
    return Grid(
        flat,
        _count(flat.right - flat.left, width),
        _count(flat.top - flat.bottom, height),
        width,
        height,
        left,
        bottom,
    )


def _count(whole: float, part: float) -> int:
    return 1 if whole <= part else 1 + ceil((whole - part) / (part - OVERLAP_MM) - 1e-9)


def draw_tile(page: Page, grid: Grid, tile: Tile, *, body: Body, what: str) -> None:
    """Draw one tile full size, its join lines and its test bars."""
    canvas = page.canvas
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(grid.left, grid.bottom, tile.width, tile.height)
    canvas.clipPath(clip, stroke=0, fill=0)
    canvas.translate(grid.left - tile.left, grid.bottom - tile.bottom)
    page.shapes(grid.flat.lines)
    joins = _joins(grid, tile)
    page.shapes(joins)
    for label in grid.flat.labels:
        if _inside(label, tile):
            page.shapes((*_cleared(label, joins), label))
    canvas.restoreState()
    page.box(grid.left, grid.bottom, tile.width, tile.height, line=0.1)
    test_bars(page, x=body.left, y=body.bottom)
    room = body.width - _STRIP_MM - BAR_INCHES * 25.4 - 8
    page.bold(body.right, body.bottom + 7.0, what, 3.0, anchor="end", room=room)
    if grid.columns * grid.rows > 1:
        place = f"row {tile.row + 1} of {grid.rows}, sheet {tile.column + 1} of {grid.columns}"
        page.words(body.right, body.bottom + 1.0, place, 2.4, anchor="end", room=room)


def _inside(label: Text, tile: Tile) -> bool:
    """Tell whether a label falls whole on a tile, clear of its join lines' letters."""
    return all(
        tile.left <= x <= tile.left + tile.width and tile.bottom <= y <= tile.bottom + tile.height
        for x, y in box_of(label).corners
    )


def _cleared(label: Text, joins: tuple[Line, ...]) -> tuple[Polyline, ...]:
    """Return what hides the join lines behind a label that lies on one: a figure crossed out can't be read."""
    corners = box_of(label).corners
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    on_one = any(
        min(xs) <= max(join.x1_mm, join.x2_mm)
        and max(xs) >= min(join.x1_mm, join.x2_mm)
        and min(ys) <= max(join.y1_mm, join.y2_mm)
        and max(ys) >= min(join.y1_mm, join.y2_mm)
        for join in joins
    )
    return (Polyline(tuple(corners), "paper", closed=True),) if on_one else ()


def _joins(grid: Grid, tile: Tile) -> tuple[Line, ...]:
    """Return the join lines that this tile shares with its neighbors: laid on each other they make one sheet."""
    half = OVERLAP_MM / 2
    lines: list[Line] = []
    x = tile.left + tile.width - half
    if tile.column < grid.columns - 1:
        lines.append(Line(x, tile.bottom, x, tile.bottom + tile.height, "center"))
    if tile.column > 0:
        lines.append(Line(tile.left + half, tile.bottom, tile.left + half, tile.bottom + tile.height, "center"))
    if tile.row < grid.rows - 1:
        y = tile.bottom + half
        lines.append(Line(tile.left, y, tile.left + tile.width, y, "center"))
    if tile.row > 0:
        y = tile.bottom + tile.height - half
        lines.append(Line(tile.left, y, tile.left + tile.width, y, "center"))
    return tuple(lines)


def test_bars(page: Page, *, x: float, y: float) -> None:
    """Draw bars of 100 mm and 4 in, along and up; a printer that shrinks or stretches shows at once."""
    for up, length, words in ((8.0, BAR_MM, "100 mm"), (2.0, BAR_INCHES * 25.4, "4 in")):
        _bar(page, x=x + _STRIP_MM, y=y + up, dx=length, dy=0.0, words=f"measure: {words}")
    for along, length, words in ((3.0, BAR_MM, "100 mm"), (9.0, BAR_INCHES * 25.4, "4 in")):
        _bar(page, x=x + along, y=y + _STRIP_MM, dx=0.0, dy=length, words=f"measure: {words}")


def _bar(page: Page, *, x: float, y: float, dx: float, dy: float, words: str) -> None:
    tick = 1.5
    nx, ny = (0.0, tick) if dx else (tick, 0.0)
    page.line(x, y, x + dx, y + dy, 0.2)
    page.line(x - nx, y - ny, x + nx, y + ny, 0.2)
    page.line(x + dx - nx, y + dy - ny, x + dx + nx, y + dy + ny, 0.2)
    label = (
        Text(x + dx / 2, y + 0.7, words, 1.8, "middle") if dx else Text(x - 0.7, y + dy / 2, words, 1.8, "middle", 90.0)
    )
    page.shapes((label,))
