"""Every code on every sheet reads back from a picture of 150 dpi, on every paper that the sheet is printed on."""

from typing import Any

import pytest

from cutlists.sheets import SHEETS, SheetKind
from cutlists.sheets.frame import Paper
from cutlists.sheets.qr import Code
from tests.cutlists.sheets.pdf_reading import codes, open_pdf, write
from tests.cutlists.sheets.samples import sample

EACH = [pytest.param(kind, paper, id=f"{kind.code}-{paper.code}") for kind in SHEETS for paper in kind.papers]


def codes_in(values: Any) -> list[str]:
    """Return what a sheet's values say is to be opened."""
    found = [getattr(one, "code", None) for one in (values, *getattr(values, "tags", ()))]
    return [code.address for code in found if isinstance(code, Code)]


@pytest.mark.parametrize(("kind", "paper"), EACH)
def test_the_codes_on_paper_are_those_of_the_sheets_values(kind: SheetKind, paper: Paper) -> None:
    for seed in range(3):
        values = sample(kind.code, seed)
        pages = open_pdf(write(kind.print_to, values, paper=paper))
        assert sorted(text for page in pages for text in codes(page, dpi=150)) == sorted(codes_in(values)), seed


def test_some_sheets_do_carry_a_code() -> None:
    assert {kind.code for kind in SHEETS if codes_in(sample(kind.code, 4))} >= {
        "cut_ticket",
        "spool_sheet",
        "load_list",
    }
