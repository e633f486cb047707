"""Legs, turns, make-ups and ends to pieces, joints, marks, check dimension and findings."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from geometry.adjust import CheckInput
from geometry.assembly import Assembly, assemble
from geometry.bends import BendChoice, Made, Turn, make_up
from geometry.centerline import CenterlineError, CenterlineRequest, closing_mm, distance_mm, is_straight, lay_out, walk
from geometry.closing import chain_closing, tie_in_closing
from geometry.ends import EndChoice, EndEffect, end_prep
from geometry.findings import Finding, caution, error, has_errors
from geometry.pieces import Joint, Mark, Piece, PieceEnd
from geometry.refusals import material_findings, request_problems
from geometry.room import make_ups_that_fit, short_runs
from geometry.spool import ChainRequest, SpoolAnswer, SpoolRequest
from geometry.stretches import Frameup, SpoolEnd, Stretch, end_effect, stretches
from geometry.tables import PipeRow

__all__ = [
    "BendChoice",
    "ChainRequest",
    "Joint",
    "Mark",
    "Piece",
    "PieceEnd",
    "SpoolAnswer",
    "SpoolRequest",
    "build",
    "build_chain",
    "chain_of",
    "make_ups_of",
]

ON_A_BEVEL = EndChoice("beveled", "pipe_end")


def build(request: SpoolRequest) -> SpoolAnswer:
    """Make the pieces of one tie-in, or say why it can't be made and what would do.

    Args: legs in mm from the PI to their references, the included angle in degrees, make-up, ends, root gap.
    Returns: an answer with findings; it never raises for what a person can type.
    Source: cut = leg - take-off - root gap - what the end takes; geometry.

    >>> from geometry.tables import pipe
    >>> grooved, beveled = EndChoice("grooved", "pipe_end"), EndChoice("beveled", "pipe_end")
    >>> answer = build(SpoolRequest(pipe=pipe("6", "40"), leg_a_mm=36.125 * 25.4, leg_b_mm=22.5625 * 25.4,
    ...     included_deg=127.5, bend=BendChoice(), end_a=grooved, end_b=beveled, root_gap_mm=0.09375 * 25.4))
    >>> [(piece.mark, round(piece.cut_length_mm / 25.4, 4)) for piece in answer.pieces]
    [('A', 31.5929), ('E', 8.2467), ('B', 18.0304)]
    """
    try:
        chain = chain_of(request)
    except CenterlineError as refused:
        return _refused(request, error("not_a_center_line", str(refused)))
    problems = request_problems(chain)
    if problems:
        return _refused(request, *problems)
    answer = _build(chain, closing=_tie_in_closing(request))
    return replace(answer, legs_mm=(request.leg_a_mm, request.leg_b_mm), turn_deg=180.0 - request.included_deg)


def chain_of(request: SpoolRequest) -> ChainRequest:
    """Return a tie-in as a chain: two legs and a turn, or one leg of straight pipe at 180 included.

    Raises:
        CenterlineError: a leg isn't above zero, or the included angle isn't above 0 and at most 180.

    """
    legs: tuple[float, ...] = (request.leg_a_mm, request.leg_b_mm)
    straight = is_straight(request.included_deg)
    if not all(0.0 < leg < 1e6 for leg in legs):
        raise CenterlineError("Both legs must be longer than zero: read the tape again.")
    if not straight and not 0.0 < request.included_deg < 180.0:
        raise CenterlineError("The included angle must be above 0 and at most 180 degrees: read the jig again.")
    line = CenterlineRequest((sum(legs),)) if straight else CenterlineRequest(legs, (180.0 - request.included_deg,))
    return ChainRequest(**request.shared(), line=line, bends=() if straight else (request.bend,))


def build_chain(request: ChainRequest) -> SpoolAnswer:
    """Make the pieces of a whole spool of n legs, or say why it can't be made.

    Args: the center line with its turns and twists, one make-up for each turn, ends, root gap.
    Returns: an answer with findings; it never raises for what a person can type.
    """
    problems = request_problems(request)
    if problems:
        return _refused(request, *problems)
    computed_mm = _end_to_end_mm(request.line)
    closing = chain_closing(nps=request.pipe.nps, measured_mm=request.closing_mm, computed_mm=computed_mm)
    return _build(request, closing=closing)


def _build(request: ChainRequest, *, closing: tuple[Finding, ...]) -> SpoolAnswer:
    """Build what has no problems; ``closing`` is what the closing check has to say."""
    effects = (
        end_effect(request.end_a, pipe=request.pipe, root_gap_mm=request.root_gap_mm),
        end_effect(request.end_b, pipe=request.pipe, root_gap_mm=request.root_gap_mm),
    )
    makes = make_ups_of(request)
    frame = _frame_up(request, makes, effects)
    runs = stretches(frame)
    finished = _finished(request, frame)
    found = _unique(
        (
            *(finding for made in makes for finding in made.findings),
            *_end_findings(effects),
            *(_weld_findings(request.pipe) if any(made.welds for made in makes) else ()),
            *material_findings(request.material),
            *closing,
        )
    )
    if not has_errors(tuple(finding for made in makes for finding in made.findings)):
        found = _unique((*found, *_room_findings(request, runs, effects)))
    answer = SpoolAnswer(
        buildable=not has_errors(found),
        legs_mm=request.line.legs_mm,
        turn_deg=next(iter(request.line.turns_deg), 0.0),
        take_off_mm=makes[0].take_off_mm if makes else 0.0,
        closing_mm=_end_to_end_mm(request.line),
        check_mm=_end_to_end_mm(finished) if finished else 0.0,
        finished_legs_mm=finished.legs_mm if finished else (),
        findings=found,
        turns_deg=request.line.turns_deg,
        twists_deg=request.line.twists_deg,
        take_offs_mm=tuple(made.take_off_mm for made in makes),
    )
    return _with_pieces(answer, assemble(frame, runs), makes) if answer.buildable else answer


def _with_pieces(answer: SpoolAnswer, assembly: Assembly, makes: tuple[Made, ...]) -> SpoolAnswer:
    rounded_end = walk(assembly.rounded_steps)[-1]
    return replace(
        answer,
        pieces=assembly.pieces,
        joints=assembly.joints,
        marks=tuple(mark for made in makes for mark in made.marks),
        mass_black_kg=sum(piece.mass_kg for piece in assembly.pieces),
        rounded_check_mm=distance_mm((0.0, 0.0, 0.0), rounded_end.point),
        steps=assembly.steps,
        rounded_steps=assembly.rounded_steps,
    )


def _refused(request: SpoolRequest | ChainRequest, *problems: Finding) -> SpoolAnswer:
    """Return an answer that holds nothing but the reasons."""
    if isinstance(request, SpoolRequest):
        legs: tuple[float, ...] = (request.leg_a_mm, request.leg_b_mm)
        turn_deg = 180.0 - request.included_deg
    else:
        legs, turn_deg = request.line.legs_mm, next(iter(request.line.turns_deg), 0.0)
    return SpoolAnswer(buildable=False, legs_mm=legs, turn_deg=turn_deg, take_off_mm=0.0, findings=problems)


def make_ups_of(request: ChainRequest) -> tuple[Made, ...]:
    """Return every turn of a spool made up, in order from end A.

    Raises:
        UnknownMakeUp: a make-up that isn't one.

    """
    return tuple(make_up(choice.kind).make(_turn(request, index)) for index, choice in enumerate(request.bends))


def _turn(request: ChainRequest, index: int) -> Turn:
    return Turn(
        pipe=request.pipe,
        turn_deg=request.line.turns_deg[index],
        choice=request.bends[index],
        gap_mm=request.root_gap_mm,
        kerf_mm=request.kerf_mm,
    )


def _frame_up(request: ChainRequest, makes: tuple[Made, ...], effects: tuple[EndEffect, EndEffect]) -> Frameup:
    end_a, end_b = (
        SpoolEnd(
            prep=choice.prep,
            takes_mm=effect.deduction_mm,
            operations=effect.operations,
            needs_mm=effect.minimum_straight_mm,
            beyond_mm=effect.deduction_mm if choice.prep == "saddle" else effect.beyond_pipe_mm,
        )
        for choice, effect in zip((request.end_a, request.end_b), effects, strict=True)
    )
    return Frameup(
        pipe=request.pipe,
        legs_mm=request.line.legs_mm,
        twists_deg=request.line.twists_deg,
        makes=makes,
        end_a=end_a,
        end_b=end_b,
        gap_mm=request.root_gap_mm,
        graduation=request.graduation,
        weld_operations=end_prep("beveled").operations,
    )


def _end_to_end_mm(line: CenterlineRequest) -> float:
    """Return the straight distance from end A to end B of a center line."""
    if len(line.legs_mm) == 1:
        return line.legs_mm[0]
    if len(line.legs_mm) == 2:
        return closing_mm(*line.legs_mm, included_deg=180.0 - line.turns_deg[0])
    points = lay_out(line).points
    return distance_mm(points[0], points[-1])


def _finished(request: ChainRequest, frame: Frameup) -> CenterlineRequest | None:
    """Return the center line to the finished ends; None where an end eats up its leg."""
    legs = list(frame.legs_mm)
    legs[0] += frame.end_a.beyond_mm - frame.end_a.takes_mm
    legs[-1] += frame.end_b.beyond_mm - frame.end_b.takes_mm
    if min(legs) <= 0.0:
        return None
    return CenterlineRequest(tuple(legs), request.line.turns_deg, request.line.twists_deg)


def _tie_in_closing(request: SpoolRequest) -> tuple[Finding, ...]:
    measured = CheckInput(
        leg_a_mm=request.leg_a_mm,
        leg_b_mm=request.leg_b_mm,
        included_deg=min(request.included_deg, 180.0),
        closing_mm=request.closing_mm,
    )
    computed_mm = closing_mm(request.leg_a_mm, request.leg_b_mm, included_deg=request.included_deg)
    return tie_in_closing(
        measured,
        computed_mm=computed_mm,
        nps=request.pipe.nps,
        misclosure_accepted=request.misclosure_accepted,
    )


def _end_findings(effects: tuple[EndEffect, EndEffect]) -> tuple[Finding, ...]:
    """Say of every finding of an end which end it is."""
    return tuple(
        replace(finding, text=f"End {name}: {finding.text}")
        for name, effect in zip("AB", effects, strict=True)
        for finding in effect.findings
    )


@cache
def _weld_findings(pipe: PipeRow) -> tuple[Finding, ...]:
    """Return what beveling this wall for the welds inside the spool asks for; the same for every spool of a pipe."""
    return end_prep("beveled").effect(pipe, ON_A_BEVEL).findings


def _room_findings(
    request: ChainRequest, runs: tuple[Stretch, ...], effects: tuple[EndEffect, EndEffect]
) -> tuple[Finding, ...]:
    """Refuse runs of pipe that are too short, naming what would do; caution where fitting meets fitting."""
    found = short_runs(tuple(run.run for run in runs), od_mm=request.pipe.od_mm)
    if has_errors(found) and len(request.bends) == 1:
        would_do = make_ups_that_fit(
            _turn(request, 0),
            legs_mm=(request.line.legs_mm[0], request.line.legs_mm[1]),
            takes_mm=(effects[0].deduction_mm, effects[1].deduction_mm),
            needs_mm=(effects[0].minimum_straight_mm, effects[1].minimum_straight_mm),
        )
        found = short_runs(tuple(run.run for run in runs), od_mm=request.pipe.od_mm, would_do=would_do)
    legs_in_pipe = sum(run.last_leg - run.first_leg + 1 for run in runs)
    if legs_in_pipe < len(request.line.legs_mm):
        text = "PFI ES-3 lets fitting tolerances add up where two fittings meet with no pipe: measure both fittings."
        found = (*found, caution("fitting_to_fitting", text))
    return found


def _unique(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Keep each finding once, in order."""
    return tuple(dict.fromkeys(found))
