"""Whatever people type is printed as text: no sheet breaks, no words leave the paper, nothing runs as a command."""

from dataclasses import fields, is_dataclass, replace
from itertools import combinations

import pytest

from cutlists.sheets import SHEETS, SheetKind
from cutlists.sheets.fonts import LONGEST_TEXT
from geometry.drawing.shapes import Drawing
from geometry.wraps import Hole, Wrap
from tests.cutlists.sheets.pdf_reading import open_pdf, printed, write
from tests.cutlists.sheets.samples import sample

FIXED = {"units", "tape", "code", "kind", "address", "matrix"}  # chosen from our own lists, never typed
UGLY = (
    "<b>214</b><br/>&amp;<para>",
    "\u05e9\u05dc\u05d5\u05dd-\u202e412\u202c",
    "W" * 100_000,
    "two words and many more, " * 40,
    "21\x004\n\r\t\x1b[31m-A",
    "(214) Tj ET Q \\) endstream endobj",
    "ÄÊÑ" * 9,
    "",
)


def spoiled(value: object, ugly: str) -> object:
    """Return the same values with every typed text replaced."""
    if isinstance(value, str):
        return ugly
    if isinstance(value, Drawing | Wrap | Hole):
        return value
    if isinstance(value, tuple):
        return tuple(spoiled(one, ugly) for one in value)
    if is_dataclass(value):
        typed = (field.name for field in fields(value) if field.name not in FIXED)
        return replace(value, **{name: spoiled(getattr(value, name), ugly) for name in typed})
    return value


@pytest.mark.parametrize("ugly", UGLY, ids=lambda text: repr(text[:14]))
@pytest.mark.parametrize("kind", [pytest.param(kind, id=kind.code) for kind in SHEETS])
def test_hostile_text_stays_in_its_place_and_is_capped(kind: SheetKind, ugly: str) -> None:
    values = spoiled(sample(kind.code, 6), ugly)
    for paper in (kind.papers[0], kind.papers[-1]):
        for page in open_pdf(write(kind.print_to, values, paper=paper)):
            wide, high = (size * 25.4 / 72 for size in page.get_size())
            words = printed(page)
            assert not [(a.text[:40], b.text[:40]) for a, b in combinations(words, 2) if a.overlaps(b)]
            for word in words:
                assert word.left > 0
                assert word.bottom > 0
                assert word.right < wide
                assert word.top < high
                assert len(word.text) <= LONGEST_TEXT + 200  # a footer joins a few capped texts
