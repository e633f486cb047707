"""Cut tickets: what is printed is what was stored, and a code reads back from the paper."""

import io
import os
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlists.sheets.fonts import fall
from cutlists.sheets.frame import LABELS, LETTER, PAPERS, Paper
from cutlists.sheets.ticket import PART_PAGES, Ticket, write_packet, write_ticket
from cutlists.sheets.ticket_values import NamedLength
from tests.cutlists.sheets.pdf_reading import Printed, codes, lengths_on, open_pdf, printed, write
from tests.cutlists.sheets.samples import ticket

SAMPLES = int(os.environ.get("SHEET_SAMPLES", "12"))
EACH_PAPER = [pytest.param(paper, id=paper.code) for paper in PAPERS]
UGLY = (
    "<b>214</b><br/>&amp;<para>",
    "\u05e9\u05dc\u05d5\u05dd-\u202e412",
    "W" * 100_000,
    "21\x004\n\r\t\x1b[31m-A",
    "(214) Tj ET Q \\) endstream endobj",
    "'; --",
    "",
)


def page_of(one: Ticket, paper: Paper) -> list[Printed]:
    """Return the strings of a ticket's page."""
    return printed(open_pdf(write(write_ticket, one, paper=paper))[0])


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("paper", EACH_PAPER)
def test_the_cut_length_reads_back_to_the_nearest_graduation(paper: Paper, units: str) -> None:
    step = Fraction(254, 160) if units == "us" else Fraction(1)
    for seed in range(SAMPLES):
        one = replace(ticket(seed, units=units, plain=True), marks=(), tape_mm=None, sketch=None)
        read = lengths_on(page_of(one, paper), units=units)[0]
        assert abs(read - one.length_mm) <= float(step) / 2 + 1e-9, one.length_mm


@pytest.mark.parametrize("paper", EACH_PAPER)
def test_marks_pipe_bar_bench_due_and_revision_are_printed_as_stored(paper: Paper) -> None:
    for seed in range(SAMPLES):
        one = ticket(seed, plain=True)
        said = " ".join(w.text for w in page_of(one, paper))
        for fact in (one.piece_mark, one.nps, one.schedule, one.bench, one.due, f"REV {one.heading.revision}", one.bar):
            assert fact in said
        for end in (one.end_1, one.end_2):
            assert end.words.lower() in said.lower()
        assert one.heat in said


@pytest.mark.parametrize("paper", EACH_PAPER)
def test_every_code_decodes_at_150_dpi(paper: Paper) -> None:
    tickets = [ticket(seed) for seed in range(SAMPLES)]
    pdf = open_pdf(write(write_packet, tickets, total=len(tickets), paper=paper))
    for page, one in zip(pdf, tickets, strict=True):
        assert codes(page) == [one.code.address]


@pytest.mark.parametrize("paper", EACH_PAPER)
@pytest.mark.parametrize("ugly", UGLY, ids=lambda text: repr(text[:12]))
def test_hostile_text_is_printed_as_text_and_stays_in_its_room(ugly: str, paper: Paper) -> None:
    one = ticket(2, plain=True)
    bad = replace(
        one,
        heading=replace(one.heading, job=ugly, shop=ugly, printed_by=ugly, revision=ugly[:3]),
        mark=ugly,
        heat=ugly,
        bench=ugly,
        due=ugly,
        material=ugly,
        end_1=replace(one.end_1, words=ugly, note=ugly),
        cautions=(ugly,),
        operations=(ugly,),
    )
    words = page_of(bad, paper)
    wide, high = paper.width_mm, paper.height_mm
    assert all(w.left >= 0 and w.right <= wide and w.bottom >= 0 and w.top <= high for w in words)
    if ugly.startswith("<b>"):
        assert any(ugly in w.text for w in words)


def test_hostile_headings_do_not_leave_their_text_in_names_of_the_file() -> None:
    one = ticket(2)
    bad = replace(one, heading=replace(one.heading, job="x Do /F1 9 Tf (y) Tj << /A"))
    data = write(write_ticket, bad)
    assert any("x Do /F1 9 Tf (y) Tj << /A" in w.text for w in printed(open_pdf(data)[0]))


def test_without_a_heat_the_ticket_has_a_line_to_write_on() -> None:
    with_heat, without = (len(page_of(replace(ticket(2, plain=True), heat=heat), LETTER)) for heat in ("K1", ""))
    assert with_heat == without + 1


def test_a_packet_tells_its_progress_and_can_be_called_off() -> None:
    heard: list[int] = []
    tickets = [ticket(1)] * (2 * PART_PAGES + 5)
    write_packet(io.BytesIO(), tickets, total=len(tickets), progress=heard.append)
    assert heard == [PART_PAGES, 2 * PART_PAGES, 2 * PART_PAGES + 5]

    def stop(done: int) -> None:
        raise InterruptedError(done)

    with pytest.raises(InterruptedError):
        write_packet(io.BytesIO(), tickets, total=len(tickets), progress=stop)


def test_a_packet_takes_tickets_as_they_come() -> None:
    pdf = open_pdf(write(write_packet, (ticket(seed) for seed in range(3)), total=3))
    assert [f"page {n} of 3" in [w.text for w in printed(page)] for n, page in enumerate(pdf, start=1)] == [True] * 3


@pytest.mark.parametrize("paper", [pytest.param(paper, id=paper.code) for paper in LABELS])
def test_a_label_says_what_its_length_runs_along_and_the_marks_to_lay_off(paper: Paper) -> None:
    marks = tuple(NamedLength(name, mm) for name, mm in (("throat", 100.0), ("center", 152.4), ("heel", 203.2)))
    one = replace(ticket(1, plain=True), length_mm=152.4, length_label="along the center", marks=marks, sketch=None)
    words = page_of(one, paper)
    assert {"along the center", "throat", "heel"} <= {word.text for word in words}
    assert "center" not in {word.text for word in words}  # the length is the center's
    assert lengths_on(words, units="us") == [152.4, pytest.approx(100.0, abs=0.8), 203.2]


@pytest.mark.parametrize("paper", EACH_PAPER)
@pytest.mark.parametrize("mark", ["Qgjpy", "flanged", "214"])
def test_a_mark_whose_letters_hang_stays_clear_of_what_stands_below_it(paper: Paper, mark: str) -> None:
    one = replace(ticket(1, plain=True), mark=mark, length_mm=25.4 * 31.8125, marks=(), sketch=None)
    words = page_of(one, paper)
    (big,) = [word for word in words if word.text == one.piece_mark]
    assert not [other.text for other in words if other is not big and big.overlaps(other)]


def test_a_mark_without_hanging_letters_keeps_its_full_height() -> None:
    assert fall("214-A") == 0.0
    assert fall("pit 3") > 0.2
