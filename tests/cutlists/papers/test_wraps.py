"""Templates from rows: one for each slanted cut, printed for paper's own thickness."""

from io import BytesIO
from math import pi

import pypdfium2 as pdfium
import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.wraps import wraps_of
from cutlists.sheets.frame import SHEET_PAPERS, Paper
from cutlists.sheets.wrap import write_wraps
from geometry.tables import pipe
from geometry.wraps import Hole, Wrap
from spools.errors import ShopError
from spools.models import Spool
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.spools import NOON, make_spool

pytestmark = pytest.mark.django_db


def mitered(welds: int) -> Spool:
    """A spool whose bend is a miter."""
    return make_spool(bend_kind="miter", bend_options={"welds": welds, "miters_allowed": True})


def wraps(spool: Spool) -> list:
    """The spool's templates."""
    return list(wraps_of(spool, Printing(foreman_of(spool.shop), NOON)))


def test_a_miter_of_two_welds_has_one_template_for_both_ends_and_one_for_its_middle_piece() -> None:
    ends, middle = wraps(mitered(2))
    assert (ends.mark, middle.mark) == ("214-A, B", "214-M1")
    assert ends.what == "A at weld 1 and B at weld 2: miter cut 13.125° from square"
    assert ends.told == ("One template for 2 pieces: cut it out once.",)
    assert middle.told == ()


@pytest.mark.parametrize("paper", SHEET_PAPERS, ids=lambda paper: paper.code)
@pytest.mark.parametrize("made", [{"welds": 1}, {"welds": 3}, {"saddle": 60.0}, {"saddle": 120.0}], ids=str)
def test_no_page_of_a_template_holds_nothing_but_cautions(made: dict, paper: Paper) -> None:
    spool = saddled(made["saddle"], offset_mm=50.0) if "saddle" in made else mitered(made["welds"])
    out = BytesIO()
    write_wraps(out, wraps(spool), paper=paper)
    with pdfium.PdfDocument(out.getvalue()) as pages:
        texts = [page.get_textpage().get_text_range() for page in pages]
    assert all(("GIRTH" in text) or ("measure: 100 mm" in text) for text in texts)
    assert sum("GIRTH" in text for text in texts) == len(wraps(spool))


@pytest.mark.parametrize(
    ("included", "offset_mm", "side"), [(60.0, 50.0, "left"), (60.0, -50.0, "right"), (120.0, 50.0, "right")]
)
def test_a_saddles_template_says_main_angle_seat_and_the_offsets_side(included, offset_mm, side) -> None:
    cope, hole = wraps(saddled(included, offset_mm=offset_mm))
    said = f'Main 2\' 0" outside, included angle {included:g}°, set-on, 1-15/16" {side} of center facing the crotch.'
    assert cope.told[0] == hole.told[0] == said
    assert "heel" in cope.told[1]


def test_a_set_in_saddle_can_be_built_and_laid_out() -> None:
    cope, hole = wraps(saddled(75.0, offset_mm=20.0, seat="set-in"))
    assert "set-in" in cope.told[0]
    assert hole.template.width_mm > pipe("6", "40").od_mm * 0.9


def saddled(included_deg: float, *, offset_mm: float = 0.0, seat: str = "set-on") -> Spool:
    """A spool whose end A is a saddle on the 24 in main."""
    said = {"a": {"included_deg": included_deg, "offset_mm": offset_mm, "seat": seat}}
    return make_spool(end_a="saddle", measured_to_a="saddle_wall", end_options=said)


def test_the_girth_is_taken_at_the_middle_of_the_paper() -> None:
    od_mm = pipe("6", "40").od_mm
    for sheet in wraps(mitered(1)):
        assert sheet.template.girth_mm == pytest.approx(pi * (od_mm + 0.1))


def test_a_trimmed_elbow_needs_no_wrap_and_says_what_marks_it() -> None:
    with pytest.raises(ShopError, match="no slanted cut"):
        wraps(make_spool())


def test_a_saddle_has_its_cope_and_the_mains_hole_and_prints(client) -> None:
    said = {"a": {"included_deg": 60.0, "seat": "set-on"}}
    spool = make_spool(end_a="saddle", measured_to_a="saddle_wall", end_options=said)
    assert [type(sheet.template) for sheet in wraps(spool)] == [Wrap, Hole]
    client.force_login(foreman_of(spool.shop), backend="django.contrib.auth.backends.ModelBackend")
    with pdfium.PdfDocument(client.get(f"/sheets/wrap/{spool.id}.pdf").content) as pages:
        text = "".join(page.get_textpage().get_text_range() for page in pages)
    assert "214-A" in text
    assert "torch" in text
