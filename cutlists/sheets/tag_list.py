"""The list of steel tags to stamp: big figures with the bar under them, a box for each stamped one."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, words_block
from cutlists.sheets.figures import count_text
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page

_ACROSS, _ROW = 4, 13.0
_TOLD = (
    "Mild steel about 2 x 3 in, never zinc-plated or aluminum; a hole of 3/8 in or more so that the zinc drains.",
    "Stamp at least 1/2 in high and 1/32 in deep, with the bar under the number: it tells which way up it reads.",
    "Four digits and a check digit. Stamp exactly what stands here: numbers that turn over into another are left out.",
    "Tie loosely with plain steel wire through the open end, clear of the gasket seat. Common practice, no source.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TagSheet:
    """A batch of tags to stamp, in order; ``tags`` are their five digits."""

    heading: Heading
    batch: str
    tags: tuple[str, ...]


def write_tag_list(out: BinaryIO, sheet: TagSheet, *, paper: Paper = LETTER) -> int:
    """Write the list; returns the number of pages."""
    body = body_of(paper)
    words = f"{count_text(len(sheet.tags), 'tag')}, {sheet.tags[0]} to {sheet.tags[-1]}" if sheet.tags else "no tags"
    rows = [sheet.tags[at : at + _ACROSS] for at in range(0, len(sheet.tags), _ACROSS)]
    blocks = [
        Block(8.0, lambda page, top: _count(page, words, body, top)),
        words_block(_TOLD, body=body, text=2.6, bullet="·"),
        *(_row(row, body) for row in rows),
    ]
    leaves = set_pages(blocks, body, gap=0.0)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Steel tags", mark=sheet.batch, leaves=leaves)


def _count(page: Page, words: str, body: Body, top: float) -> None:
    page.bold(body.left, top - 5.5, words, 5.0, room=body.width)


def _row(tags: tuple[str, ...], body: Body) -> Block:
    def draw(page: Page, top: float) -> None:
        each = body.width / _ACROSS
        for at, tag in enumerate(tags):
            left = body.left + at * each
            page.box(left, top - 9.5, 6, 6, line=0.4)
            wide = page.bold(left + 9, top - 9.5, tag, 6.0, room=each - 12)
            page.line(left + 9, top - 11.2, left + 9 + wide, top - 11.2, 0.6)

    return Block(_ROW, draw)
