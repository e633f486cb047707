"""The working of a tie-in, line by line, as a fitter would check it by hand."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, tan

from geometry.angles import say_turn
from geometry.bends import Made, Turn, make_up
from geometry.centerline import is_straight
from geometry.ends import REFERENCE_WORDS, EndChoice, end_prep
from geometry.jig import SideReading
from geometry.lengths import MM_PER_INCH, Graduation, format_length
from geometry.spool import SpoolAnswer, SpoolRequest
from geometry.stretches import end_effect


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes lengths as the graduation's system does: decimal inches to compute with, the tape's form beside it."""

    graduation: Graduation

    def plain(self, length_mm: float) -> str:
        """Write a length to compute with: ``40.3125`` in, or ``1023.94`` mm."""
        if self.graduation.denominator:
            return f"{round(length_mm / MM_PER_INCH, 9) + 0.0:.4f}"  # a float's noise must not tip 0.09375, nor -0
        return f"{length_mm + 0.0:.2f}"

    def tape(self, length_mm: float) -> str:
        """Write a length as the tape shows it."""
        return format_length(length_mm, graduation=self.graduation)

    @property
    def unit(self) -> str:
        """The unit of ``plain``."""
        return "inches" if self.graduation.denominator else "mm"


def explain(
    request: SpoolRequest, answer: SpoolAnswer, *, sides: tuple[SideReading, SideReading] | None = None
) -> tuple[str, ...]:
    """Return the working of a two-leg tie-in, one step a line.

    Args: what was asked; what ``build`` answered; the two sides of the jig, where the legs came from it.
    Returns: lines of text: legs, turn, take-off, cuts, marks, rounding, check dimension, weight, then the findings.
    Every line can be checked with a pocket calculator.
    """
    figures = Figures(request.graduation)
    lines = [f"{request.pipe.name}, OD {figures.plain(request.pipe.od_mm)}. Lengths in {figures.unit}."]
    lines += _legs(request, figures, sides)
    lines += [
        f"Turn: 180 - {request.included_deg:.10g} = {180.0 - request.included_deg:.10g} degrees. {_said(request)}"
    ]
    if answer.buildable:
        lines += _bend(request, answer, figures)
        lines += _cuts(request, answer, figures)
        lines += _check(request, answer, figures)
    lines += [f"{finding.level.capitalize()}: {finding.text}" for finding in answer.findings]
    return tuple(lines)


def _said(request: SpoolRequest) -> str:
    words = say_turn(included_deg=min(max(request.included_deg, 0.0), 180.0))
    return f"{words[:1].upper()}{words[1:]}."


def _legs(request: SpoolRequest, figures: Figures, sides: tuple[SideReading, SideReading] | None) -> Iterator[str]:
    legs = (("A", request.leg_a_mm), ("B", request.leg_b_mm))
    for index, (name, leg_mm) in enumerate(legs):
        if sides is None or not (sides[index].burn_mm or sides[index].set_point_mm):
            yield f"Leg {name}: {figures.plain(leg_mm)} ({figures.tape(leg_mm)}) from the PI."
            continue
        side = sides[index]
        yield (
            f"Leg {name}: reading {figures.plain(side.reading_mm)} - burn {figures.plain(side.burn_mm)} "
            f"+ set point {figures.plain(side.set_point_mm)} = {figures.plain(leg_mm)} ({figures.tape(leg_mm)})."
        )


def _bend(request: SpoolRequest, answer: SpoolAnswer, figures: Figures) -> Iterator[str]:
    if is_straight(request.included_deg):
        yield "Straight pipe: no bend, no take-off."
        return
    kind = make_up(request.bend.kind)
    yield f"Make-up: {kind.words(request.bend)}."
    turn_deg, half = answer.turn_deg, answer.turn_deg / 2.0
    elbow = next((piece for piece in answer.pieces if piece.kind == "elbow"), None)
    take_off = figures.plain(answer.take_off_mm)
    if elbow is not None and elbow.center_to_end_mm:
        yield f"Take-off: center to end of a whole {elbow.made_from}, from the table = {take_off}."
    elif elbow is not None:
        radius = figures.plain(elbow.bend_radius_mm)
        yield (
            f"Take-off: R x tan(turn / 2) = {radius} x tan {half:.6g} = {radius} x {tan(radians(half)):.6f} "
            f"= {take_off}."
        )
        yield from _arcs(elbow.bend_radius_mm, request.pipe.od_mm, turn_deg, figures)
    elif request.bend.kind == "miter":
        yield from _miter(request, answer, figures)
    else:
        radius_mm = request.bend.bend_radius_mm or 0.0
        radius = figures.plain(radius_mm)
        yield f"Tangent: R x tan(turn / 2) = {radius} x {tan(radians(half)):.6f} = {take_off}."
        arc = figures.plain(radius_mm * radians(turn_deg))
        yield f"Arc: R x turn x pi / 180 = {radius} x {radians(turn_deg):.6f} = {arc}."


def _arcs(radius_mm: float, od_mm: float, turn_deg: float, figures: Figures) -> Iterator[str]:
    for name, at_mm in (("throat", radius_mm - od_mm / 2.0), ("center", radius_mm), ("heel", radius_mm + od_mm / 2.0)):
        arc_mm = at_mm * radians(turn_deg)
        yield (
            f"Mark at the {name}: {figures.plain(at_mm)} x {turn_deg:.10g} x pi / 180 = {figures.plain(arc_mm)} "
            f"({figures.tape(arc_mm)}), tape laid on the elbow."
        )


def _miter(request: SpoolRequest, answer: SpoolAnswer, figures: Figures) -> Iterator[str]:
    welds = request.bend.welds
    cut_deg = answer.turn_deg / (2.0 * welds)
    yield f"Cut from square: turn / (2 x {welds}) = {cut_deg:.6g} degrees."
    cut_back_mm = request.pipe.od_mm * tan(radians(cut_deg))
    yield (
        f"Cut-back, heel less throat: OD x tan {cut_deg:.6g} = {figures.plain(request.pipe.od_mm)} x "
        f"{tan(radians(cut_deg)):.6f} = {figures.plain(cut_back_mm)} ({figures.tape(cut_back_mm)})."
    )
    if welds > 1:
        end_mm = next(mark.value_mm for mark in answer.marks if mark.name == "end_piece")
        radius_mm = end_mm / tan(radians(cut_deg))
        yield (
            f"PI to the first weld: Re x (tan {answer.turn_deg / 2.0:.6g} - tan {cut_deg:.6g}) = "
            f"{figures.plain(radius_mm)} x {tan(radians(answer.turn_deg / 2.0)) - tan(radians(cut_deg)):.6f} "
            f"= {figures.plain(answer.take_off_mm)}."
        )


def _made(request: SpoolRequest, answer: SpoolAnswer) -> Made:
    turn = Turn(
        pipe=request.pipe,
        turn_deg=answer.turn_deg,
        choice=request.bend,
        gap_mm=request.root_gap_mm,
        kerf_mm=request.kerf_mm,
    )
    return make_up(request.bend.kind).make(turn)


def _cuts(request: SpoolRequest, answer: SpoolAnswer, figures: Figures) -> Iterator[str]:
    ends = {"A": request.end_a, "B": request.end_b}
    legs = {"A": request.leg_a_mm, "B": request.leg_b_mm}
    one_piece = len(answer.pieces) == 1
    for piece in answer.pieces:
        if piece.kind == "elbow":
            continue
        ticket = f"= {figures.plain(piece.cut_length_mm)}; the ticket says {figures.tape(piece.rounded_cut_mm)}."
        if one_piece:
            yield _one_piece(request, answer, figures) + ticket
        elif piece.mark in legs:
            made = _made(request, answer)
            yield (
                f"Cut {piece.mark}: leg {figures.plain(legs[piece.mark])} - take-off {figures.plain(made.take_off_mm)} "
                f"- {_gap_words(made, request, figures)}{_end_words(request, ends[piece.mark], figures)} {ticket}"
            )
        else:
            yield f"Middle piece {piece.mark}: 2 x Re x tan(cut) less the gaps {ticket}"
    yield rounding_line(answer, figures)


def rounding_line(answer: SpoolAnswer, figures: Figures) -> str:
    """Say how far the tickets' lengths are from the exact ones all together."""
    cut = [piece for piece in answer.pieces if piece.kind != "elbow"]
    exact_mm, rounded_mm = sum(p.cut_length_mm for p in cut), sum(p.rounded_cut_mm for p in cut)
    return (
        f"Rounded together: the pieces are {figures.plain(exact_mm)} in all and the tickets "
        f"{figures.plain(rounded_mm)}, {figures.plain(abs(rounded_mm - exact_mm))} apart: half a graduation at most."
    )


def _one_piece(request: SpoolRequest, answer: SpoolAnswer, figures: Figures) -> str:
    ends = _end_words(request, request.end_a, figures) + _end_words(request, request.end_b, figures)
    legs = f"Cut: leg A {figures.plain(request.leg_a_mm)} + leg B {figures.plain(request.leg_b_mm)}{ends} "
    if is_straight(request.included_deg):
        return legs
    arc_mm = (request.bend.bend_radius_mm or 0.0) * radians(answer.turn_deg)
    return f"{legs}- 2 tangents of {figures.plain(answer.take_off_mm)} + arc {figures.plain(arc_mm)} "


def _gap_words(made: Made, request: SpoolRequest, figures: Figures) -> str:
    if made.cut_angle_deg:
        cut = f"cos {made.cut_angle_deg:.6g} = {cos(radians(made.cut_angle_deg)):.6f}"
        gap = figures.plain(request.root_gap_mm)
        return f"half the gap {gap} / 2 / {cut}: {figures.plain(made.leg_gap_mm)}"
    return f"root gap {figures.plain(made.leg_gap_mm)}"


def _end_words(request: SpoolRequest, choice: EndChoice, figures: Figures) -> str:
    takes_mm = end_effect(choice, pipe=request.pipe, root_gap_mm=request.root_gap_mm).deduction_mm
    sign = "+" if takes_mm < 0.0 else "-"
    reference = REFERENCE_WORDS.get(choice.measured_to, choice.measured_to)
    return f" {sign} end {figures.plain(abs(takes_mm))} ({end_prep(choice.prep).word}, measured to the {reference})"


def _check(request: SpoolRequest, answer: SpoolAnswer, figures: Figures) -> Iterator[str]:
    a_mm, b_mm = request.leg_a_mm, request.leg_b_mm
    yield (
        f"C between the references: sqrt(A^2 + B^2 - 2 x A x B x cos {request.included_deg:.10g}) with A "
        f"{figures.plain(a_mm)} and B {figures.plain(b_mm)} = {figures.plain(answer.closing_mm)}."
    )
    if request.closing_mm is not None:
        off_mm = request.closing_mm - answer.closing_mm
        yield f"C as measured: {figures.plain(request.closing_mm)}, {figures.plain(off_mm)} against it."
    yield (
        f"Check dimension between the finished ends: {figures.plain(answer.check_mm)} "
        f"({figures.tape(answer.check_mm)}); the tickets' own lengths give {figures.plain(answer.rounded_check_mm)}."
    )
    yield f"Weight before zinc: {answer.mass_black_kg:.1f} kg ({answer.mass_black_kg / 0.45359237:.1f} lb)."
