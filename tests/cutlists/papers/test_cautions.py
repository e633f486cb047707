"""Cautions on paper: all of them on the spool sheet, in the job's own units, each only where its trigger holds."""

from dataclasses import replace

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.papers.words import shop_cautions
from cutlists.sheets.frame import LABEL_4X6, LETTER, Paper
from cutlists.sheets.spool_sheet import write_spool_sheet
from cutlists.sheets.ticket import write_ticket
from spools.models import Spool
from spools.say_lengths import in_units
from spools.solving import Typed
from spools.stored_solutions import read_solution
from tests.cutlists.papers.random_spools import foreman_of, two_jobs
from tests.cutlists.sheets.pdf_reading import all_text, open_pdf, printed, write
from tests.cutlists.sheets.samples import spool as sample_spool
from tests.cutlists.sheets.samples import ticket as sample_ticket
from tests.cutlists.sheets.test_room import faults
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_shop
from tests.factories.spools import NOON, make_spool, take

MANY = tuple(
    f"Caution {number}: stop, look at the weld again and ask the foreman before going on." for number in range(9)
)


def cautions(spool: Spool) -> tuple[str, ...]:
    return shop_cautions(spool, read_solution(spool.solution))


def test_every_caution_of_a_spool_is_printed_on_its_sheet() -> None:
    said = " ".join(all_text(write(write_spool_sheet, replace(sample_spool(4), cautions=MANY))))
    assert [number for number in range(9) if f"Caution {number}:" not in said] == []


@pytest.mark.parametrize("paper", [pytest.param(paper, id=paper.code) for paper in (LETTER, LABEL_4X6)])
def test_a_ticket_without_room_for_all_cautions_says_where_the_others_are(paper: Paper) -> None:
    page = open_pdf(write(write_ticket, replace(sample_ticket(4), cautions=MANY), paper=paper))[0]
    words = printed(page)
    said = " ".join(word.text for word in words)
    shown = [number for number in range(9) if f"Caution {number}:" in said]
    assert shown == list(range(len(shown)))
    assert f"Read the spool sheet first: it has {9 - len(shown)} more cautions." in said
    assert not faults(words, width_mm=paper.width_mm, height_mm=paper.height_mm, margin_mm=paper.margin_mm)


@pytest.mark.django_db
def test_a_metric_spool_reads_no_inch_foot_or_pound() -> None:
    _, metric = two_jobs()
    long = Typed(leg_a="2200 mm", leg_b="1700 mm", included="150", closing="3768 mm", burn_a="102", burn_b="102")
    spool = take(
        make_tie_in(metric, "7", nps="8", bend_kind="miter", bend_options={"welds": 3, "miters_allowed": True}), long
    ).spool
    person = foreman_of(spool.shop)
    (found,) = spools_to_print([spool.id], person)
    sheet = spool_sheet_of(found, Printing(person, NOON))
    texts = [*sheet.cautions, *(text for one in tickets_of(found, Printing(person, NOON)) for text in one.cautions)]
    assert any("kg" in text for text in texts)
    assert not [text for text in texts if '"' in text or " in," in text or " ft" in text or " lb" in text]


@pytest.mark.django_db
def test_a_long_gentle_spool_narrower_than_five_feet_asks_for_no_kettle() -> None:
    job = make_job(make_shop())
    gentle = Typed(leg_a="5' 11-7/8\"", leg_b="5' 1-1/2\"", included="158.25", closing="10' 11\"")
    spool = take(make_tie_in(job, "8", nps="4"), gentle).spool
    assert not [text for text in cautions(spool) if "kettle" in text]


@pytest.mark.django_db
def test_the_marks_on_the_sheet_are_named_after_the_bend_that_is_there() -> None:
    job, names = make_job(make_shop()), {}
    for kind, options in (("trimmed_elbow", {}), ("miter", {"welds": 1, "miters_allowed": True})):
        spool = make_spool(kind, job=job, bend_kind=kind, bend_options=options)
        sheet = spool_sheet_of(spool, Printing(foreman_of(spool.shop), NOON))
        names[kind] = [mark.name for mark in sheet.elbow_marks]
    assert names["trimmed_elbow"] == ["elbow throat", "elbow center", "elbow heel"]
    assert names["miter"] == ["miter cut back, heel to throat"]


@pytest.mark.parametrize(
    ("text", "metric"),
    [
        ("The radius is 1' 0\", and the code asks 1' 1-5/8\".", "The radius is 305 mm, and the code asks 346 mm."),
        ('Leaves 8" of pipe; over by 1/16".', "Leaves 203 mm of pipe; over by 1.6 mm."),
        ("NPS 3/4 of older stock, W3 in ink.", "NPS 3/4 of older stock, W3 in ink."),
    ],
)
def test_lengths_in_words_are_said_in_the_jobs_units(text: str, metric: str) -> None:
    assert in_units(text, "metric") == metric
    assert in_units(text, "us") == text
