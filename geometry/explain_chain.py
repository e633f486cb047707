"""The working of a whole spool, line by line, as a fitter would check it by hand."""

from collections.abc import Iterator
from math import radians

from geometry.build import make_ups_of
from geometry.centerline import lay_out
from geometry.explain import Figures, rounding_line
from geometry.pieces import Piece
from geometry.spool import ChainRequest, SpoolAnswer
from geometry.stretches import end_effect


def explain_chain(request: ChainRequest, answer: SpoolAnswer) -> tuple[str, ...]:
    """Return the working of a spool of any number of legs, one step a line.

    Args: what was asked; what ``build_chain`` answered.
    Returns: lines of text: legs, turns with their rolls, take-offs, cuts, the PIs in space, the check dimension, then
    the findings.
    """
    figures = Figures(request.graduation)
    lines = [f"{request.pipe.name}, OD {figures.plain(request.pipe.od_mm)}. Lengths in {figures.unit}."]
    lines += [f"Leg {number}: {figures.plain(leg)}." for number, leg in enumerate(request.line.legs_mm, start=1)]
    lines += _turns(request)
    if answer.buildable:
        lines += _cuts(request, answer, figures)
        lines += _in_space(request, figures)
        lines.append(f"Check dimension between the finished ends: {figures.plain(answer.check_mm)}.")
    lines += [f"{finding.level.capitalize()}: {finding.text}" for finding in answer.findings]
    return tuple(lines)


def _turns(request: ChainRequest) -> Iterator[str]:
    rolls = (0.0, *request.line.twists_deg)
    for number, (turn_deg, roll_deg) in enumerate(zip(request.line.turns_deg, rolls, strict=True), start=1):
        roll = f", rolled {roll_deg:.6g} degrees about the pipe before it" if number > 1 else ""
        yield f"Turn {number}: {turn_deg:.10g} degrees, included {180.0 - turn_deg:.10g}{roll}."


def _cuts(request: ChainRequest, answer: SpoolAnswer, figures: Figures) -> Iterator[str]:
    """Yield one line for each leg's straight pipe, and one for each piece that the saw cuts."""
    makes = make_ups_of(request)
    sides = [f"take-off {figures.plain(made.take_off_mm)} - gap {figures.plain(made.leg_gap_mm)}" for made in makes]
    ends = [
        f"end {figures.plain(end_effect(choice, pipe=request.pipe, root_gap_mm=request.root_gap_mm).deduction_mm)}"
        for choice in (request.end_a, request.end_b)
    ]
    near, far = [ends[0], *sides], [*sides, ends[1]]
    for number, (leg_mm, start, end) in enumerate(zip(request.line.legs_mm, near, far, strict=True), start=1):
        yield f"Straight pipe on leg {number}: {figures.plain(leg_mm)} - {start} - {end}."
    for made in makes:
        if made.arc is not None:
            arc_mm = made.arc.radius_mm * radians(made.arc.degrees)
            radius = figures.plain(made.arc.radius_mm)
            yield f"Arc: R x turn x pi / 180 = {radius} x {made.arc.degrees:.10g} x pi / 180 = {figures.plain(arc_mm)}."
    for piece in answer.pieces:
        yield _piece(piece, figures)
    yield rounding_line(answer, figures)


def _piece(piece: Piece, figures: Figures) -> str:
    exact, ticket = figures.plain(piece.cut_length_mm), figures.tape(piece.rounded_cut_mm)
    if piece.kind == "elbow":
        return f"Elbow {piece.mark} from {piece.made_from}: {exact} on the center line ({ticket})."
    return f"Cut {piece.mark}: {exact}; the ticket says {ticket}."


def _in_space(request: ChainRequest, figures: Figures) -> Iterator[str]:
    layout = lay_out(request.line)
    last = len(layout.points) - 1
    for index, point in enumerate(layout.points[1:], start=1):
        name = "End B's reference" if index == last else f"PI {index}"
        at = ", ".join(figures.plain(value) for value in point)
        yield f"{name} from end A, x along leg 1, y toward the first turn: {at}."
