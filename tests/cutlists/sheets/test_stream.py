"""The file writer."""

import io
import re

import pytest
from pypdfium2 import raw

from cutlists.sheets import SHEETS, SheetKind
from cutlists.sheets.fonts import TEXT
from cutlists.sheets.stream import open_canvas
from tests.cutlists.sheets.pdf_reading import open_pdf, printed, write
from tests.cutlists.sheets.samples import sample

KINDS = [pytest.param(kind, id=kind.code) for kind in SHEETS]


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_values_give_the_same_bytes(kind: SheetKind) -> None:
    assert write(kind.print_to, sample(kind.code, 3)) == write(kind.print_to, sample(kind.code, 3))


@pytest.mark.parametrize("kind", KINDS)
def test_every_font_is_embedded(kind: SheetKind) -> None:
    data = write(kind.print_to, sample(kind.code, 4))
    assert len(re.findall(rb"/FontFile2", data)) >= 1
    assert not re.search(rb"/Helvetica|/Times|/Courier", data)
    for page in open_pdf(data):
        for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=4):
            assert raw.FPDFFont_GetIsEmbedded(raw.FPDFTextObj_GetFont(item.raw)) == 1


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_says_its_revision_and_page_n_of_m(kind: SheetKind) -> None:
    values = sample(kind.code, 5)
    pdf = open_pdf(write(kind.print_to, values))
    for number, page in enumerate(pdf, start=1):
        words = [item.text for item in printed(page)]
        assert f"page {number} of {len(pdf)}" in words
        assert {values.heading.revision, f"REV {values.heading.revision}"} & set(words)


def test_a_page_leaves_memory_as_soon_as_it_is_finished() -> None:
    out = io.BytesIO()
    canvas = open_canvas(out, width=300, height=200, title="long")
    sizes = []
    for number in range(3):
        canvas.setFont(TEXT, 10)
        canvas.drawString(20, 20, f"page {number}")
        canvas.showPage()
        sizes.append(len(out.getvalue()))
    assert sizes[0] < sizes[1] < sizes[2]
    assert not [name for name in canvas._doc.idToObject if name.startswith("Page")]
    canvas.save()
    assert [printed(page)[0].text for page in open_pdf(out.getvalue())] == ["page 0", "page 1", "page 2"]


def test_values_of_another_sheet_are_refused_by_name() -> None:
    with pytest.raises(TypeError, match="Cut plan prints CutPlanSheet, not Ticket"):
        next(kind for kind in SHEETS if kind.code == "cut_plan").print_to(io.BytesIO(), sample("cut_ticket", 1))


def test_a_paper_without_a_layout_is_refused_with_one_that_has_it() -> None:
    label = SHEETS[0].papers[-1]
    with pytest.raises(ValueError, match="take Letter"):
        next(kind for kind in SHEETS if kind.code == "cut_plan").print_to(
            io.BytesIO(), sample("cut_plan", 1), paper=label
        )
