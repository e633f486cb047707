"""What is the same on every sheet: paper sizes, heading, footer, page n of m."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.figures import Units
from cutlists.sheets.fonts import MM, printable
from cutlists.sheets.page import Page
from cutlists.sheets.stream import open_canvas


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper and the margin its printers need."""

    code: str
    word: str
    width_mm: float
    height_mm: float
    margin_mm: float


LETTER = Paper("letter", 'Letter 8-1/2 x 11"', 215.9, 279.4, 11.0)
A4 = Paper("a4", "A4 210 x 297 mm", 210.0, 297.0, 11.0)
LABEL_4X2 = Paper("label-4x2", 'Film label 4 x 2"', 101.6, 50.8, 1.6)
LABEL_4X6 = Paper("label-4x6", 'Film label 4 x 6"', 101.6, 152.4, 1.6)
SHEET_PAPERS, LABELS = (LETTER, A4), (LABEL_4X2, LABEL_4X6)
PAPERS = (*SHEET_PAPERS, *LABELS)


def paper(code: str) -> Paper:
    """Return the paper of a code; raises ValueError with the codes there are."""
    for known in PAPERS:
        if known.code == code:
            return known
    raise ValueError(f'No paper "{code}": choose {", ".join(known.code for known in PAPERS)}.')


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What every sheet says of itself. Times are text in the shop's own clock; ``tape`` is the graduation's code."""

    shop: str
    job: str
    printed_at: str
    printed_by: str
    revision: str
    units: Units = "us"
    tape: str = "1/16"


@dataclass(frozen=True, slots=True)
class Body:
    """The room between heading and footer, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """How wide the room is."""
        return self.right - self.left


HEAD_MM, FOOT_MM = 19.0, 7.5
Leaf = Callable[[Page], None]


def body_of(paper: Paper) -> Body:
    """Return the room that a sheet has on a paper."""
    m = paper.margin_mm
    return Body(m, m + FOOT_MM, paper.width_mm - m, paper.height_mm - m - HEAD_MM)


def write_pages(
    out: BinaryIO,
    *,
    paper: Paper,
    heading: Heading,
    title: str,
    mark: str,
    leaves: Sequence[Leaf],
    marks: Sequence[str] = (),
    full_size: bool = False,
) -> int:
    """Write a sheet whose pages are drawn by ``leaves``; returns how many pages it has.

    ``marks`` are the pages' own where they aren't all of one mark. ``full_size`` asks the printer not to scale.
    """
    canvas = open_canvas(
        out,
        width=paper.width_mm * MM,
        height=paper.height_mm * MM,
        title=printable(f"{title} {mark}".strip()),
        full_size=full_size,
    )
    page = Page(canvas, width_mm=paper.width_mm, height_mm=paper.height_mm)
    for number, leaf in enumerate(leaves, start=1):
        page.start(tape=heading.tape)
        draw_frame(page, paper=paper, heading=heading, title=title, mark=marks[number - 1] if marks else mark)
        page_number(page, paper=paper, number=number, total=len(leaves))
        leaf(page)
        canvas.showPage()
    canvas.save()
    return len(leaves)


def write_many(
    out: BinaryIO, sheets: Iterable[tuple[Heading, str, Sequence[Leaf]]], *, paper: Paper, title: str
) -> int:
    """Write several sheets of a kind one after the other as they come, each numbered by itself; returns the pages."""
    canvas = open_canvas(out, width=paper.width_mm * MM, height=paper.height_mm * MM, title=f"{title}s")
    page = Page(canvas, width_mm=paper.width_mm, height_mm=paper.height_mm)
    pages = 0
    for heading, mark, leaves in sheets:
        for number, leaf in enumerate(leaves, start=1):
            page.start(tape=heading.tape)
            draw_frame(page, paper=paper, heading=heading, title=title, mark=mark)
            page_number(page, paper=paper, number=number, total=len(leaves))
            leaf(page)
            canvas.showPage()
            pages += 1
    canvas.save()
    return pages


def draw_frame(page: Page, *, paper: Paper, heading: Heading, title: str, mark: str) -> None:
    """Draw the heading (what it is, of what, which revision if it has any) and the footer (whose, when, by whom)."""
    m, right, top = paper.margin_mm, paper.width_mm - paper.margin_mm, paper.height_mm - paper.margin_mm
    if mark:
        page.banner(m, top, mark, 10, room=88, smallest=2.5)
    taken = 92 if mark else 0
    page.bold(m + taken, top - 4.2, title.upper(), 4.2, room=right - m - taken - 30)
    page.words(m + taken, top - 10, heading.job, 2.6, room=right - m - taken - 30, smallest=1.8)
    if heading.revision:
        page.words(right - 14, top - 10, "REV", 2.6, anchor="end")
        page.bold(right, top - 10, heading.revision, 10, room=12, anchor="end", smallest=2.5)
    page.line(m, top - 13.5, right, top - 13.5, 0.7)
    page.line(m, m + 4.5, right, m + 4.5, 0.25)
    page.words(m, m, f"{heading.shop} · printed {heading.printed_at} by {heading.printed_by}", 2.1, room=right - m - 34)


def page_number(page: Page, *, paper: Paper, number: int, total: int) -> None:
    """Write page n of m."""
    m = paper.margin_mm
    page.bold(paper.width_mm - m, m, f"page {number} of {total}", 2.4, anchor="end", room=32)
