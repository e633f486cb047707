"""Tags of drops: what is printed is what was stored, on film and on paper, and every code reads back."""

from fractions import Fraction

import pytest

from cutlists.sheets.drop_tag import write_drop_tags
from cutlists.sheets.frame import A4, LABEL_4X2, LETTER, Paper
from tests.cutlists.sheets.pdf_reading import codes, lengths_on, open_pdf, printed, write
from tests.cutlists.sheets.samples import sample

EACH = [pytest.param(paper, id=paper.code) for paper in (LABEL_4X2, LETTER, A4)]


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("seed", range(8))
def test_a_film_label_says_number_pipe_length_heat_and_rack(seed: int, units: str) -> None:
    sheet = sample("drop_tag", seed, units=units)
    pdf = open_pdf(write(write_drop_tags, sheet, paper=LABEL_4X2))
    step = Fraction(254, 160) if units == "us" else Fraction(1)
    assert len(pdf) == len(sheet.tags)
    for page, tag in zip(pdf, sheet.tags, strict=True):
        assert page.get_size() == pytest.approx((288, 144), abs=0.5)  # 4 x 2 in, in points
        words = printed(page)
        said = " ".join(word.text for word in words)
        for fact in (tag.number, f"NPS {tag.nps}", tag.schedule, tag.heat, tag.rack, tag.came_from):
            assert fact in said
        assert abs(lengths_on(words, units=units)[0] - tag.length_mm) <= float(step) / 2 + 1e-9


@pytest.mark.parametrize("paper", EACH)
def test_every_code_decodes_at_150_dpi_and_tags_stand_in_their_order(paper: Paper) -> None:
    for seed in range(8):
        sheet = sample("drop_tag", seed)
        pdf = open_pdf(write(write_drop_tags, sheet, paper=paper))
        read = [code for page in pdf for code in codes(page)]
        assert sorted(read) == sorted(tag.code.address for tag in sheet.tags)
        numbers = [word.text for page in pdf for word in printed(page)]
        places = [numbers.index(tag.code.typed) for tag in sheet.tags]
        assert places == sorted(places)


def test_eight_tags_go_on_a_sheet_to_cut_apart() -> None:
    sheet = next(one for one in (sample("drop_tag", seed) for seed in range(60)) if len(one.tags) == 9)
    assert len(open_pdf(write(write_drop_tags, sheet, paper=LETTER))) == 2
