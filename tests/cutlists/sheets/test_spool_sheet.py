"""Spool sheets: every figure reads back as it was stored, also in the drawing."""

import os
from dataclasses import replace

import pytest

from cutlists.sheets.figures import small_length_text, weight_text
from cutlists.sheets.frame import A4, LETTER, body_of
from cutlists.sheets.spool_sheet import DRAWING_WIDTH_MM, drawing_height_mm, write_spool_sheet
from geometry.bends.base import BendChoice
from geometry.build import SpoolRequest, build
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.spool_view import spool_view
from geometry.ends import EndChoice
from geometry.tables import pipe
from tests.cutlists.sheets.pdf_reading import codes, lengths_on, open_pdf, printed, write
from tests.cutlists.sheets.samples import spool
from tests.cutlists.sheets.test_room import faults

SAMPLES = int(os.environ.get("SHEET_SAMPLES", "8"))


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_cut_length_check_and_elbow_mark_reads_back(units: str) -> None:
    half = 25.4 / 32 if units == "us" else 0.5
    for seed in range(SAMPLES):
        sheet = replace(spool(seed, units=units), drawing=None)
        words = [word for page in open_pdf(write(write_spool_sheet, sheet)) for word in printed(page)]
        left = lengths_on(words, units=units)
        stored = [sheet.check_mm, *(p.length_mm for p in sheet.pieces), *(m.mm for m in sheet.elbow_marks)]
        for mm in stored:
            near = [read for read in left if abs(read - mm) <= half + 1e-9]
            assert near, (seed, mm)
            left.remove(near[0])


def test_readings_weights_gaps_and_codes_read_back() -> None:
    for seed in range(SAMPLES):
        sheet = spool(seed)
        pdf = open_pdf(write(write_spool_sheet, sheet))
        said = [word.text for page in pdf for word in printed(page)]
        for fact in (sheet.readings.leg_a, sheet.readings.leg_b, sheet.readings.included, sheet.turn_words):
            assert fact in said
        assert any(text.startswith(weight_text(sheet.black_kg, "us")) for text in said)
        assert all(small_length_text(joint.gap_mm, "1/16") in said for joint in sheet.joints)
        assert [text for page in pdf for text in codes(page)] == [sheet.code.address]


def test_a_root_gap_is_never_rounded_to_the_tapes_sixteenths() -> None:
    assert small_length_text(2.38125, "1/16") == '3/32"'
    assert small_length_text(2.4, "1mm") == "2.4 mm"


@pytest.mark.parametrize("included", [165.0, 127.0, 95.0])
@pytest.mark.parametrize("paper", [pytest.param(LETTER, id="letter"), pytest.param(A4, id="a4")])
def test_a_real_drawing_is_printed_to_its_scale_and_clear_of_everything(included: float, paper: object) -> None:
    request = SpoolRequest(
        pipe=pipe("6", "40"),
        leg_a_mm=812.8,
        leg_b_mm=546.1,
        included_deg=included,
        bend=BendChoice(),
        end_a=EndChoice(prep="grooved", measured_to="pipe_end"),
        end_b=EndChoice(prep="beveled", measured_to="pipe_end"),
        root_gap_mm=2.38125,
    )
    drawn = spool_drawing(request, build(request), mark="214", hand="left")
    sheet = replace(spool(4), drawing=None)
    view = spool_view(drawn, width_mm=DRAWING_WIDTH_MM, height_mm=drawing_height_mm(sheet, paper=paper))
    pdf = open_pdf(write(write_spool_sheet, replace(sheet, drawing=view), paper=paper))
    assert len(pdf) == 1
    words = printed(pdf[0])
    assert not faults(words, width_mm=paper.width_mm, height_mm=paper.height_mm, margin_mm=paper.margin_mm)
    assert not any("scale does not hold" in word.text for word in words)
    assert any(view.scale_text in word.text for word in words)


def test_a_drawing_too_wide_says_that_its_scale_does_not_hold() -> None:
    wide = replace(spool(4).drawing, width_mm=body_of(LETTER).width + 50)
    said = [w.text for w in printed(open_pdf(write(write_spool_sheet, replace(spool(4), drawing=wide)))[0])]
    assert any("scale does not hold" in text for text in said)


def test_a_spool_of_many_pieces_goes_on_over_the_page_with_its_head_again() -> None:
    sheet = replace(spool(4), pieces=spool(4).pieces * 20)
    pdf = open_pdf(write(write_spool_sheet, sheet))
    heads = [word.text for page in pdf for word in printed(page)].count("cut length")
    assert len(pdf) > 1
    assert heads > 1
