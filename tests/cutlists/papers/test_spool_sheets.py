"""The spool sheet from rows: one page, what an end is, what a piece is."""

from io import BytesIO

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import tickets_of
from cutlists.papers.words import schedule_words
from cutlists.sheets.frame import A4, LETTER, Paper
from cutlists.sheets.spool_sheet import write_spool_sheet
from cutlists.sheets.spool_values import SpoolSheet
from geometry.tables.odd_sizes import say_size
from spools.models import Spool
from spools.solving import Typed
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_shop
from tests.factories.spools import NOON, make_spool, take

pytestmark = pytest.mark.django_db

EACH_PAPER = pytest.mark.parametrize("paper", [pytest.param(paper, id=paper.code) for paper in (LETTER, A4)])


def printing(spool: Spool) -> Printing:
    """The foreman prints at noon."""
    return Printing(foreman_of(spool.shop), NOON)


def sheet_of(spool: Spool, paper: Paper = LETTER) -> SpoolSheet:
    """The spool's sheet."""
    return spool_sheet_of(spool, printing(spool), paper=paper)


def read_as(typed: Typed, **fields) -> Spool:
    """A spool of a reading with legs and included angle of one's own."""
    return take(make_tie_in(make_job(make_shop()), **fields), typed).spool


@EACH_PAPER
def test_a_miter_of_five_welds_stands_on_one_page_with_its_cautions(paper: Paper) -> None:
    typed = Typed(leg_a="50", leg_b="46", included="85", closing="64-15/16", hand="left")
    five = {"welds": 5, "miters_allowed": True}
    spool = read_as(typed, bend_kind="miter", bend_options=five, end_b="beveled")
    assert write_spool_sheet(BytesIO(), sheet_of(spool, paper), paper=paper) == 1


@EACH_PAPER
def test_a_long_note_of_the_field_does_not_send_the_cautions_to_a_page_of_their_own(paper: Paper) -> None:
    note = "Water in the pit, measured from the ladder; the grating must come off before anyone can stand here. " * 2
    typed = Typed(leg_a="36 1/8", leg_b="22 9/16", included="127.5", closing="53", note=note[:190])
    spool = read_as(typed)
    assert write_spool_sheet(BytesIO(), sheet_of(spool, paper), paper=paper) == 1


def test_straight_pipe_has_no_turn_and_no_hand() -> None:
    sheet = sheet_of(read_as(Typed(leg_a="30", leg_b="22", included="180", closing="52", hand="left")))
    assert (sheet.turn_words, sheet.hand_words) == ("straight pipe", "no turn, so no hand")


def test_an_elbow_that_nothing_is_done_to_is_not_called_trimmed() -> None:
    typed = Typed(leg_a="36", leg_b="26", included="135", closing="57-7/16")
    whole = read_as(typed, bend_kind="whole_elbow")
    assert [piece.words for piece in sheet_of(whole).pieces] == ["pipe", "whole elbow", "pipe"]
    assert [piece.words for piece in sheet_of(make_spool(job=whole.tie_in.job, mark="215")).pieces] == [
        "pipe",
        "trimmed elbow",
        "pipe",
    ]


def test_a_saddles_main_angle_seat_and_offset_and_a_flanges_face_are_said_in_the_jobs_units() -> None:
    said = {"a": {"included_deg": 60.0, "offset_mm": 50.0}}
    job = make_job(make_shop(), units="metric", graduation="1mm", root_gap_mm=2.5)
    fields = {"end_a": "saddle", "measured_to_a": "saddle_wall", "end_options": said, "end_b": "flanged_slip_on"}
    tie_in = make_tie_in(job, **fields, measured_to_b="flange_face")
    typed = Typed(leg_a="914", leg_b="660", included="140", closing="1481", burn_a="102", burn_b="102")
    assert sheet_of(take(tie_in, typed).spool).notes == (
        (
            "End A: saddle, main 610 mm outside, included angle 60°, set-on, 50 mm left of center facing the crotch; "
            "cut to the longest tip, then to its wrap."
        ),
        "End B: class 150 slip-on flange, pipe 10 mm back from its face.",
    )


def test_flanges_are_listed_as_bought_with_the_welds_that_put_them_on() -> None:
    job = make_job(make_shop(), root_gap_mm=2.38125, weld_procedure="W-12")
    own = {"flange_class": "300", "flange_length_mm": 98.425}
    fields = {"end_a": "flanged_weld_neck", "end_b": "flanged_slip_on", "end_options": {"a": own}}
    tie_in = make_tie_in(job, **fields, measured_to_a="flange_face", measured_to_b="flange_face")
    spool = take(tie_in, Typed(leg_a="36", leg_b="26", included="135", closing="57-7/16")).spool
    sheet = sheet_of(spool)
    bought = [piece for piece in sheet.pieces if piece.length_mm is None]
    assert [(piece.mark, piece.words, piece.end_1, piece.end_2) for piece in bought] == [
        (f"{spool.label}-FA", "weld-neck flange", "class 300", "on A"),
        (f"{spool.label}-FB", "slip-on flange", "class 150", "on B"),
    ]
    assert [(weld.number, weld.pieces, weld.kind, weld.gap_mm, weld.wps) for weld in sheet.joints[-2:]] == [
        ("FA", "A to FA", "butt", pytest.approx(2.38125), "W-12"),
        ("FB", "B to FB", "two fillets", None, "W-12"),
    ]


def test_a_ticket_says_along_which_line_its_length_runs() -> None:
    one = {"welds": 1, "miters_allowed": True}
    miter = make_spool(bend_kind="miter", bend_options=one)
    job = miter.tie_in.job
    saddle = make_spool(
        "215", job=job, end_a="saddle", measured_to_a="saddle_wall", end_options={"a": {"included_deg": 60.0}}
    )
    labels = [[ticket.length_label for ticket in tickets_of(spool, printing(spool))] for spool in (miter, saddle)]
    assert labels[0] == ["cut on the center line", "cut on the center line"]
    assert labels[1] == ["cut to the longest tip", "along the center", "cut length"]


def test_steel_that_is_not_for_zinc_says_stop_first() -> None:
    stainless = make_spool(material="A312 TP316L")
    plain = make_spool("215", job=stainless.tie_in.job)
    assert sheet_of(stainless).cautions[0].startswith("STOP: A312 TP316L is no plain carbon steel.")
    assert not any("STOP" in words for words in sheet_of(plain).cautions)


def test_a_size_that_no_table_has_is_not_called_nominal() -> None:
    """Its outside diameter and wall are said with their unit."""
    assert (say_size("OD 5.25"), schedule_words("W 0.25")) == ("OD 5.25 in", "wall 0.25 in")
    assert (say_size("6"), schedule_words("40"), schedule_words("STD")) == ("NPS 6", "Sch 40", "STD")
