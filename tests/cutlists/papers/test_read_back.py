"""Spool sheets and tickets of random spools, read back from their PDFs with another library.

Every figure is the stored one and none is missing or unexplained, every code opens its spool, no words overlap, leave
the paper or are cut short. The bar is 300 spools, some 800 tickets:

    READ_BACK_SPOOLS=300 pytest tests/cutlists/papers/test_read_back.py
"""

import os
from math import pi
from random import Random

import pypdfium2 as pdfium
import pytest
from django.conf import settings

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import NOT_LAID_OFF, spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.sheets import PAPERS, SHEET_PAPERS, Paper, write_packet
from cutlists.sheets.frame import LABELS
from cutlists.sheets.spool_sheet import write_spool_sheets
from geometry.lengths import parse_length
from geometry.pieces import Mark
from geometry.tables import pipe
from spools.laid_out import LaidOut, read_laid_out, say_both_turns, say_roll
from spools.models import Piece, Spool
from spools.stored_solutions import read_solution
from tests.cutlists.papers.random_spools import foreman_of, random_spool, random_two_bend_spool, two_jobs
from tests.cutlists.sheets.pdf_reading import Printed, codes, named_lengths_on, open_pdf, printed, write
from tests.cutlists.sheets.test_room import faults
from tests.factories.spools import NOON

TWO_BENDS = (4, 5)  # of every six spools, one of each job
SPOOLS = int(os.environ.get("READ_BACK_SPOOLS", "6"))
HALF_A_GRADUATION_MM = {"us": 25.4 / 32, "metric": 0.5}
KG_PER_LB = 0.45359237  # the international pound, exact


@pytest.mark.django_db
def test_random_spools_read_back_as_stored_and_every_word_has_its_room() -> None:
    random, jobs = Random(20_26), two_jobs()
    wrong, tickets, sheets = [], 0, 0
    for number in range(SPOOLS):
        make = random_two_bend_spool if number % 6 in TWO_BENDS else random_spool
        made = make(random, jobs[number % 2], str(100 + number))
        person = foreman_of(made.shop)
        (spool,) = spools_to_print([made.id], person)
        printing = Printing(person, NOON)
        paper = SHEET_PAPERS[number // 2 % 2]
        sheet = spool_sheet_of(spool, printing, paper=paper)
        pages = open_pdf(write(write_spool_sheets, [sheet], paper=paper))
        sheets += 1
        wrong += [(spool.label, "sheet", fault) for fault in sheet_faults(spool, pages, paper)]
        label = PAPERS[number // 2 % len(PAPERS)]
        cut = tickets_of(spool, printing, paper=label)
        pages = open_pdf(write(write_packet, cut, total=len(cut), paper=label))
        tickets += len(cut)
        wrong += [(spool.label, label.code, fault) for fault in ticket_faults(spool, pages, label)]
    print(f"{sheets} spool sheets and {tickets} tickets read back: {len(wrong)} faults")
    assert not wrong, "\n".join(str(fault) for fault in wrong)
    assert tickets >= 2 * SPOOLS - SPOOLS // 3  # bent pipe is one piece


def sheet_faults(spool: Spool, pages: pdfium.PdfDocument, paper: Paper) -> list[str]:
    """Return what is wrong with a spool's sheet."""
    found, words = room_faults(pages, paper)
    found += code_faults(pages, [spool_address(spool)])
    units, reading = spool.tie_in.job.units, spool.reading
    cuts = [piece.cut_mm for piece in spool.pieces.all() if piece.sawn]
    # Middle pieces of one length share one dimension in the drawing.
    drawn = [piece.cut_mm for piece in spool.pieces.all() if piece.sawn and not piece.mark.startswith("M")]
    drawn += {piece.cut_mm for piece in spool.pieces.all() if piece.mark.startswith("M")}
    line = read_laid_out(reading.line)
    solution = read_solution(spool.solution).answer
    of_pieces = (mark for piece in solution.pieces for mark in piece.marks)
    marks = [mark.value_mm for mark in (of_pieces if line else solution.marks) if _is_laid_off(mark)]
    marks += [line.middle_mm, *rolls(line, spool)] if line else []
    others = [piece.cut_mm for piece in spool.pieces.all() if not piece.sawn and piece.cut_mm]
    wanted = [spool.check_mm] * 2 + cuts + drawn + others + marks + [spool.leg_a_mm, spool.leg_b_mm]
    # A metric root gap stands in the welds' table like any length; one in inches is finer than the tape.
    wanted += [joint.gap_mm for joint in spool.joints.all()] if units == "metric" else []
    typed = (reading.leg_a_text, reading.leg_b_text, reading.closing_text) if units == "metric" else ()
    also = [parse_length(text, unit="mm").mm for text in typed if text]
    read = named_lengths_on(words, units=units)
    found += length_faults([mm for _, mm in read], wanted, units=units, also=also)
    named = {name: mm for name, mm in read if name}
    for name, mm in (("A", spool.leg_a_mm), ("B", spool.leg_b_mm), ("CHECK C", spool.check_mm)):
        if abs(named.get(name, 0.0) - mm) > HALF_A_GRADUATION_MM[units] + 1e-9:
            found.append(f"{name} is drawn as {named.get(name)} for {mm}")
    weight = f"{spool.black_kg / KG_PER_LB:,.0f} lb" if units == "us" else f"{round(spool.black_kg * 2) / 2:,.1f} kg"
    texts = [
        *(reading.leg_a_text, reading.leg_b_text, reading.included_text, reading.closing_text, spool.label),
        *(
            (say_both_turns(line), say_roll(line.twist_deg))
            if line
            else (f"turn {spool.turn_deg:g}°, included angle {reading.included_deg:g}°",)
        ),
        f"{weight} black",
        *(f"W{joint.number}" for joint in spool.joints.all()),
    ]
    return found + missing(texts, words)


def rolls(line: LaidOut, spool: Spool) -> list[float]:
    """Return the roll as it is marked around the pipe; a flat offset and a flat turn have none."""
    twist = abs(line.twist_deg)
    return [pi * pipe(spool.nps, spool.schedule).od_mm * twist / 360.0] if 1e-6 < twist < 180.0 - 1e-6 else []


def _is_laid_off(mark: Mark) -> bool:
    return mark.unit == "mm" and mark.name not in NOT_LAID_OFF


def ticket_faults(spool: Spool, pages: pdfium.PdfDocument, paper: Paper) -> list[str]:
    """Return what is wrong with a spool's tickets, one to a piece."""
    pieces = list(spool.pieces.all())
    found, _ = room_faults(pages, paper)
    found += code_faults(pages, [spool_address(spool, piece) for piece in pieces])
    units = spool.tie_in.job.units
    line = read_laid_out(spool.reading.line)
    legs = [
        spool.leg_a_mm,
        spool.leg_b_mm,
        spool.check_mm,
        *([line.middle_mm] if line else []),
        *(piece.cut_mm for piece in pieces if piece.cut_mm),
    ]
    for page, piece in zip(pages, pieces, strict=True):
        words = printed(page)
        read = [mm for _, mm in named_lengths_on(words, units=units)]
        marks = [mark["value_mm"] for mark in piece.marks if mark["unit"] == "mm"]
        if abs(read[0] - piece.cut_mm) > HALF_A_GRADUATION_MM[units] + 1e-9:
            found.append(f"{piece.mark} says {read[0]} for {piece.cut_mm}")
        if paper in LABELS:  # where the center is the length itself
            marks = [mark["value_mm"] for mark in piece.marks if mark["unit"] == "mm" and mark["name"] != "center"]
        own = [piece.cut_mm, *marks]
        found += length_faults(read, own, units=units, also=legs)
        wall_mm = pipe(piece.nps, piece.schedule).wall_mm
        texts = [
            *(f"{spool.label}-{piece.mark}", f"REV {spool.letter}", piece.nps),
            *(f"Sch {piece.schedule}", f'{wall_mm / 25.4:.3f}"' if units == "us" else f"{wall_mm:.2f} mm"),
            *(f"{end['cut_angle_deg']:g}°" for end in piece.ends if end["cut_angle_deg"]),
        ]
        found += missing(texts, words)
    return found


def room_faults(pages: pdfium.PdfDocument, paper: Paper) -> tuple[list[str], list[Printed]]:
    """Return words that overlap, leave the paper or are cut short, and all words."""
    found, everything = [], []
    for page in pages:
        words = printed(page)
        everything += words
        found += faults(words, width_mm=paper.width_mm, height_mm=paper.height_mm, margin_mm=paper.margin_mm)
        found += [f"cut short: {word.text}" for word in words if "…" in word.text]
        found += ["the drawing had to be made smaller" for word in words if "scale does not hold" in word.text]
    return found, everything


def spool_address(spool: Spool, piece: Piece | None = None) -> str:
    """Return what the code of a paper opens."""
    end = f"-{piece.mark}" if piece else ""
    return f"{settings.PUBLIC_ADDRESS}/S/S{spool.id}-{spool.letter}{end}".upper()


def code_faults(pages: pdfium.PdfDocument, wanted: list[str]) -> list[str]:
    """Return what the codes say instead, read from a picture of 150 dpi."""
    read = [text for page in pages for text in codes(page, dpi=150)]
    return [] if read == wanted else [f"codes say {read} for {wanted}"]


def length_faults(read: list[float], wanted: list[float], *, units: str, also: list[float] | None = None) -> list[str]:
    """Return stored lengths that aren't on paper as often as they should be, and lengths on paper that aren't stored.

    ``also`` may be there as often as it likes.
    """
    near = HALF_A_GRADUATION_MM[units] + 1e-9
    left, found = list(read), []
    for mm in wanted:
        closest = min(left, key=lambda one: abs(one - mm), default=float("inf"))
        if abs(closest - mm) > near:
            found.append(f"{mm} is not there")
        else:
            left.remove(closest)
    unexplained = [mm for mm in left if not any(abs(mm - known) <= near for known in also or [])]
    return found + [f"{mm} is nowhere stored" for mm in unexplained]


def missing(texts: list[str], words: list[Printed]) -> list[str]:
    """Return the texts that no printed string holds."""
    said = [word.text for word in words]
    return [f"“{text}” is not said" for text in texts if not any(text in one for one in said)]


def test_the_check_itself_sees_a_wrong_a_missing_and_an_unexplained_length() -> None:
    assert length_faults([100.0, 200.0], [100.4, 200.0], units="metric") == []
    assert length_faults([100.0, 200.0], [100.6, 200.0], units="metric") == [
        "100.6 is not there",
        "100.0 is nowhere stored",
    ]
    assert length_faults([100.0, 100.0], [100.0], units="us") == ["100.0 is nowhere stored"]
