"""Every sheet keeps its words apart and on the paper, for everyday values and for odd ones."""

import os
from itertools import combinations

import pytest

from cutlists.sheets import SHEETS, SheetKind
from cutlists.sheets.frame import Paper
from tests.cutlists.sheets.pdf_reading import Printed, open_pdf, printed, write
from tests.cutlists.sheets.samples import sample

# The full bars are 300 spool sheets and 600 tickets: SHEET_SAMPLES=300 pytest tests/cutlists/sheets/test_room.py
SAMPLES = int(os.environ.get("SHEET_SAMPLES", "5"))
ALL = [
    pytest.param(kind, paper, units, id=f"{kind.code}-{paper.code}-{units}")
    for kind in SHEETS
    for paper in kind.papers
    for units in ("us", "metric")
]


def faults(words: list[Printed], *, width_mm: float, height_mm: float, margin_mm: float) -> list[str]:
    """Return what is wrong with a page's words."""
    slack = 0.35  # a glyph's side bearing may reach over its advance
    off = [
        f"off the margins: {w}"
        for w in words
        if w.left < margin_mm - slack
        or w.right > width_mm - margin_mm + slack
        or w.bottom < margin_mm - 1.0  # descenders of the footer
        or w.top > height_mm - margin_mm + slack
    ]
    return off + [f"overlap: {a} and {b}" for a, b in combinations(words, 2) if a.overlaps(b)]


@pytest.mark.parametrize(("kind", "paper", "units"), ALL)
def test_no_words_overlap_or_leave_the_paper(kind: SheetKind, paper: Paper, units: str) -> None:
    for seed in range(SAMPLES):
        data = write(kind.print_to, sample(kind.code, seed, units=units), paper=paper)
        for page in open_pdf(data):
            width, height = (size * 25.4 / 72 for size in page.get_size())
            words = printed(page)
            assert len(words) > 5
            assert not faults(words, width_mm=width, height_mm=height, margin_mm=paper.margin_mm), seed


def test_the_check_itself_sees_an_overlap_and_words_off_the_paper() -> None:
    one, two = Printed("one", 20, 20, 30, 25), Printed("two", 28, 22, 40, 27)
    off = Printed("off", 205, 20, 214, 25)
    found = faults([one, two, off], width_mm=215.9, height_mm=279.4, margin_mm=11)
    assert len(found) == 2
