"""The cut plan, bar by bar: a picture to scale, each cut's length and its tape position from one end, the drop."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.figures import count_text, length_text, other_length_text
from cutlists.sheets.frame import LETTER, Body, Heading, Leaf, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.table import HEAD_ROW_MM, Blank, Cell, Column, Mm, draw_head, draw_row, row_height
from geometry.tables.odd_sizes import say_size


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanCut:
    """One piece on a bar. ``tape_mm`` is where the saw cuts, measured from the bar's marked end, kerfs counted.

    ``done``: it is cut already.
    """

    position: int
    mark: str
    length_mm: float
    tape_mm: float
    end_1: str
    end_2: str
    done: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanBar:
    """One bar or drop with its cuts in order from the marked end; ``drop_words`` say what becomes of the rest."""

    number: str
    nps: str
    schedule: str
    stock: str
    usable_mm: float
    end_trim_mm: float
    kerf_mm: float
    heat: str
    cuts: tuple[PlanCut, ...]
    drop_mm: float
    drop_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlanSheet:
    """A cut plan; ``verdict`` is the solver's own sentence: proven, or how far from the least it can be."""

    heading: Heading
    plan: str
    verdict: str
    bars: tuple[PlanBar, ...]


_COLUMNS = (
    Column("cut", 0.06, "middle"),
    Column("no.", 0.05, "end"),
    Column("mark", 0.2, heavy=True),
    Column("cut length", 0.17, "end", heavy=True),
    Column("tape from marked end", 0.19, "end", heavy=True),
    Column("end 1", 0.165),
    Column("end 2", 0.165),
)
_ROW, _TEXT, _BAR_HEAD, _GAP, _TOTALS = 8.4, 3.6, 30.0, 6.0, 20.0
_FIXED = _BAR_HEAD + HEAD_ROW_MM + _GAP  # of a bar, besides its rows
Strip = tuple[PlanBar, tuple[PlanCut, ...], bool]


def write_cut_plan(out: BinaryIO, sheet: CutPlanSheet, *, paper: Paper = LETTER) -> int:
    """Write the plan; returns the number of pages."""
    body = body_of(paper)

    def leaf(number: int, strips: Sequence[Strip]) -> Leaf:
        def draw(page: Page) -> None:
            top = body.top
            if number == 0:
                _totals(page, sheet, body)
                top -= _TOTALS
            for strip in strips:
                top = _strip(page, strip, body=body, top=top) - _GAP

        return draw

    leaves = [leaf(number, strips) for number, strips in enumerate(_pages(sheet.bars, body))]
    return write_pages(out, paper=paper, heading=sheet.heading, title="Cut plan", mark=sheet.plan, leaves=leaves)


def _pages(bars: Sequence[PlanBar], body: Body) -> list[list[Strip]]:
    """Pack bars onto pages whole where they fit; a bar longer than what is left of a page goes on over."""
    pages: list[list[Strip]] = [[]]
    whole = body.top - body.bottom
    room = whole - _TOTALS
    for bar in bars:
        cuts, continued = bar.cuts, False
        while True:
            heights = [_height(cut, body.width) for cut in cuts]
            if _FIXED + sum(heights) > room and (
                _FIXED + sum(heights) <= whole or _FIXED + max(heights, default=0.0) > room
            ):
                pages.append([])
                room = whole
            fits = _count_that_fit(heights, room - _FIXED)
            pages[-1].append((bar, cuts[:fits], continued))
            room -= _FIXED + sum(heights[:fits])
            if len(cuts) <= fits:
                break
            cuts, continued = cuts[fits:], True
    return pages


def _count_that_fit(heights: Sequence[float], room: float) -> int:
    """Return how many rows, from the first, fit the room; one at least."""
    used, count = 0.0, 0
    while count < len(heights) and used + heights[count] <= room:
        used += heights[count]
        count += 1
    return max(1, count)


def _cells(cut: PlanCut) -> tuple[Cell, ...]:
    lengths = (Mm(cut.length_mm), Mm(cut.tape_mm))
    return ("done" if cut.done else Blank.TICK, str(cut.position), cut.mark, *lengths, cut.end_1, cut.end_2)


def _height(cut: PlanCut, width: float) -> float:
    return row_height(_COLUMNS, _cells(cut), width=width, least=_ROW, text=_TEXT)


def _totals(page: Page, sheet: CutPlanSheet, body: Body) -> None:
    cuts = sum(len(bar.cuts) for bar in sheet.bars)
    usable = sum(bar.usable_mm for bar in sheet.bars)
    used = sum(cut.length_mm for bar in sheet.bars for cut in bar.cuts)
    counts = f"{count_text(len(sheet.bars), 'bar')} · {count_text(cuts, 'cut')}"
    words = f"{counts} · {length_text(used, page.tape)} cut of {length_text(usable, page.tape)}"
    page.bold(body.left, body.top - 5, words, 4.2, room=body.width)
    page.words(body.left, body.top - 10.5, sheet.verdict, 2.8, room=body.width)
    page.words(
        body.left,
        body.top - 15,
        "Hook the tape on the marked end and mark the whole bar in one pull: kerfs are counted. Saw on the far side.",
        2.4,
        room=body.width,
    )


def _strip(page: Page, strip: Strip, *, body: Body, top: float) -> float:
    """Draw one bar's heading, picture and cuts; returns the y below."""
    bar, cuts, continued = strip
    x, width = body.left, body.width
    used = page.reversed_words(x, top - 7, f"BAR {bar.number}"[:24], 4.2)
    words = f"{say_size(bar.nps)} {bar.schedule} · {bar.stock}" + (" · continued" if continued else "")
    page.bold(x + used + 3, top - 5.8, words, 3.6, room=width - used - 72)
    page.words(x + width - 62, top - 5.8, "heat", 2.4)
    page.line(x + width - 54, top - 6.6, x + width, top - 6.6, 0.25)
    page.bold(x + width - 53, top - 5.8, bar.heat, 3.6, room=52)
    _picture(page, bar, x=x, top=top - 9.5, width=width)
    y = draw_head(page, _COLUMNS, x=x, top=top - _BAR_HEAD, width=width)
    for cut in cuts:
        height = _height(cut, width)
        y = draw_row(page, _COLUMNS, _cells(cut), x=x, top=y, width=width, height=height, text=_TEXT)
    return y


def _picture(page: Page, bar: PlanBar, *, x: float, top: float, width: float) -> None:
    """Draw the bar to scale: trim hatched, pieces named, kerfs as black lines; the drop and what is cut gray."""
    height, scale = 9.0, width / bar.usable_mm
    low = top - height
    page.bar(x, low, bar.end_trim_mm * scale, height, 0.6)
    for cut in bar.cuts:
        if cut.done:  # below every kerf
            page.bar(x + (cut.tape_mm - cut.length_mm) * scale, low, cut.length_mm * scale, height, 0.85)
    for cut in bar.cuts:
        start, end = (cut.tape_mm - cut.length_mm) * scale, cut.tape_mm * scale
        _name(page, cut.mark, x=x + start, low=low, wide=end - start, height=height)
        page.bar(x + end, low, max(0.35, bar.kerf_mm * scale), height)
    if bar.drop_mm > 0:
        left = x + width - bar.drop_mm * scale
        page.bar(left, low, bar.drop_mm * scale, height, 0.85)
        if bar.drop_mm * scale > 12:
            page.words(
                left + bar.drop_mm * scale / 2, low + 3.4, "drop", 2.4, anchor="middle", room=bar.drop_mm * scale
            )
    page.box(x, low, width, height, line=0.5)
    page.words(x, low - 4.2, "marked end, tape from here", 2.0)
    words = (
        f"drop {length_text(bar.drop_mm, page.tape)} ({other_length_text(bar.drop_mm, page.tape)}): {bar.drop_words}"
    )
    page.bold(x + width, low - 4.6, words, 2.6, room=width - 50, anchor="end")


def _name(page: Page, mark: str, *, x: float, low: float, wide: float, height: float) -> None:
    """Write the mark in its piece, along the bar or upright, or not at all where there is no room."""
    if wide >= 7:
        page.bold(x + wide / 2, low + height / 2 - 1.5, mark, 3.0, room=wide - 1.2, anchor="middle", smallest=1.2)
