"""The spool sheet of a spool."""

from collections.abc import Iterator
from dataclasses import replace
from math import radians

from cutlists.papers.end_facts import end_notes
from cutlists.papers.heading import Printing, shop_clock, spool_code, spool_heading
from cutlists.papers.kept import kept_drawing
from cutlists.papers.words import BEND_WORDS, end_of, piece_words, schedule_words, shop_cautions
from cutlists.sheets.frame import LETTER, Paper
from cutlists.sheets.spool_sheet import DRAWING_WIDTH_MM, drawing_height_mm
from cutlists.sheets.spool_values import RawReadings, SpoolJoint, SpoolPiece, SpoolSheet
from cutlists.sheets.ticket_values import NamedLength
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.shapes import Drawing
from geometry.drawing.spool_view import spool_view
from geometry.spool import ChainRequest
from spools.flanges import flanges_of
from spools.laid_out import LaidOut, read_laid_out, say_both_turns, say_roll
from spools.models import Spool
from spools.say_lengths import say_length
from spools.stored_solutions import Solution, read_solution

MARK_WORDS = {"cut_back": "cut back, heel to throat"}
NOT_LAID_OFF = frozenset({"end_piece"})  # the center line's tangent to the first weld: nobody marks it on steel
STRAIGHT_AGAINST_DEG = 180.0 - 1e-6  # a flat offset is set on a flat floor, not by a mark


def spool_sheet_of(spool: Spool, printing: Printing, *, paper: Paper = LETTER) -> SpoolSheet:
    """Return everything the fitter and the welder need for one spool; the drawing fills what the figures leave free."""
    solution = read_solution(spool.solution)
    sheet = _without_drawing(spool, solution, printing)
    size_mm = (DRAWING_WIDTH_MM, drawing_height_mm(sheet, paper=paper))

    def draw() -> Drawing:
        described = spool_drawing(solution.request, solution.answer, mark=spool.label, hand=spool.reading.the_hand)
        return spool_view(described, width_mm=size_mm[0], height_mm=size_mm[1])

    return replace(sheet, drawing=kept_drawing(spool, f"sheet-{paper.code}", size_mm=size_mm, draw=draw))


def _without_drawing(spool: Spool, solution: Solution, printing: Printing) -> SpoolSheet:
    reading, line = spool.reading, read_laid_out(spool.reading.line)
    flanges = flanges_of(spool.solution)
    return SpoolSheet(
        heading=spool_heading(printing, spool),
        mark=spool.label,
        tag=spool.tag,
        nps=spool.nps,
        schedule=schedule_words(spool.schedule),
        material=spool.tie_in.material,
        turn_words=_turn_words(spool, line),
        hand_words=_hand_words(spool, line),
        pieces=tuple(
            SpoolPiece(
                mark=f"{spool.label}-{piece.mark}",
                words=piece_words(piece),
                length_mm=piece.cut_mm or 0.0,
                end_1=end_of(piece, piece.ends[0]).words,
                end_2=end_of(piece, piece.ends[-1]).words,
                heat=piece.heat.number if piece.heat else "",
            )
            for piece in spool.pieces.all()
        )
        + tuple(
            SpoolPiece(
                mark=f"{spool.label}-{flange.mark}",
                words=flange.words,
                length_mm=None,
                end_1=f"class {flange.flange_class}",
                end_2=f"on {flange.on}",
            )
            for flange in flanges
        ),
        elbow_marks=_marks(solution),
        joints=tuple(
            SpoolJoint(
                number=f"W{joint.number}",
                pieces=f"{joint.piece_1.mark} to {joint.piece_2.mark}",
                kind=joint.kind,
                gap_mm=joint.gap_mm,
                wps=spool.tie_in.job.weld_procedure,
            )
            for joint in spool.joints.all()
        )
        + tuple(
            SpoolJoint(
                number=flange.mark,
                pieces=f"{flange.on} to {flange.mark}",
                kind=flange.weld,
                gap_mm=flange.gap_mm,
                wps=spool.tie_in.job.weld_procedure,
            )
            for flange in flanges
        ),
        check_mm=spool.check_mm,
        check_tolerance_mm=spool.check_tolerance_mm,
        check_words=_check_words(spool, solution),
        readings=RawReadings(
            leg_a=reading.leg_a_text,
            leg_b=reading.leg_b_text,
            included=reading.included_text,
            burn=f"{reading.burn_a_text} / {reading.burn_b_text}",
            set_point=_set_points(spool),
            closing=reading.closing_text,
            jig="survey shots" if line else f"jig {reading.set_points.jig.serial}",
            taken=f"{reading.taken_by.short_name}, {shop_clock(reading.taken_at, spool.shop)}",
            revision=reading.letter,
        ),
        black_kg=spool.black_kg,
        zinc_kg=spool.zinc_kg,
        code=spool_code(spool),
        notes=(*((reading.note,) if reading.note else ()), *end_notes(spool, solution)),
        cautions=shop_cautions(spool, solution),
    )


def _turn_words(spool: Spool, line: LaidOut | None) -> str:
    if line:
        return say_both_turns(line)
    if not spool.turn_deg:
        return "straight pipe"
    return f"turn {spool.turn_deg:g}°, included angle {spool.reading.included_deg:g}°"


def _hand_words(spool: Spool, line: LaidOut | None) -> str:
    """Return which way the turn goes; of two bends how the second lies to the first, which sets the hand."""
    if line:
        return say_roll(line.twist_deg)
    if not spool.turn_deg:
        return "no turn, so no hand"
    return spool.reading.get_hand_display() or "hand not recorded"


def _marks(solution: Solution) -> tuple[NamedLength, ...]:
    """Return what is marked on the steel: of one bend its own marks, of two each piece's, and the roll between them."""
    request = solution.request
    if not isinstance(request, ChainRequest):
        named = [(BEND_WORDS[request.bend.kind], mark) for mark in solution.answer.marks]
    else:
        named = [(piece.mark, mark) for piece in solution.answer.pieces for mark in piece.marks]
    marks = [
        NamedLength(f"{of} {MARK_WORDS.get(mark.name, mark.name.replace('_', ' '))}", mark.value_mm)
        for of, mark in named
        if mark.unit == "mm" and mark.name not in NOT_LAID_OFF
    ]
    return (*marks, *_roll(request)) if isinstance(request, ChainRequest) else tuple(marks)


def _roll(request: ChainRequest) -> Iterator[NamedLength]:
    """Yield how far around the pipe's outside the second bend is turned from the first one."""
    for twist_deg in request.line.twists_deg:
        way = "clockwise" if twist_deg > 0.0 else "counter-clockwise"
        if 0.0 < abs(twist_deg) < STRAIGHT_AGAINST_DEG:
            yield NamedLength(f"roll around the pipe, {way}", request.pipe.od_mm * radians(abs(twist_deg)) / 2.0)


def _check_words(spool: Spool, solution: Solution) -> str:
    units = spool.tie_in.job.units
    rounded = solution.answer.rounded_check_mm
    exact = say_length(spool.check_mm, units)
    if say_length(rounded, units) == exact:
        return "end to end on the center lines, from the hook"
    return f"end to end from the hook; the rounded pieces give {say_length(rounded, units)}"


def _set_points(spool: Spool) -> str:
    points, units = spool.reading.set_points, spool.tie_in.job.units
    return f"{say_length(points.set_point_a_mm, units)} / {say_length(points.set_point_b_mm, units)}"
