"""What changed between two builds of a tie-in, in the words of the trade: only what is not the same."""

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.bends import make_up
from geometry.ends import end_prep
from geometry.pieces import Piece
from geometry.spool import ChainRequest
from geometry.tables.odd_sizes import say_pipe
from spools.laid_out import LaidOut, say_made, say_turns
from spools.models import Reading, Spool
from spools.say_lengths import say_length
from spools.stored_solutions import Solution

NONE = "none"


@dataclass(frozen=True, slots=True)
class Change:
    """One figure that isn't the same any more."""

    what: str
    old: str
    new: str


def what_changed(spool: Spool, old: Solution, new: Solution, *, instead: Spool | None) -> tuple[Change, ...]:
    """Return every figure that differs between a build's solution and the newer one, most telling first."""
    reading = instead.reading if instead else spool.tie_in.current_reading
    job = spool.tie_in.job
    before, after = dict(_figures(old, spool.reading, job.units)), dict(_figures(new, reading, job.units))
    names = dict.fromkeys([*before, *after])
    return tuple(
        Change(name, before.get(name, NONE), after.get(name, NONE))
        for name in names
        if before.get(name) != after.get(name)
    )


def _figures(solution: Solution, reading: Reading | None, units: str) -> Iterator[tuple[str, str]]:
    request, answer = solution.request, solution.answer
    for piece in answer.pieces:
        yield f"{piece.mark}, {PIECE_WORDS.get(piece.kind, piece.kind)}", _size_of(piece, units)
    if isinstance(request, ChainRequest):
        line = LaidOut(request.line, request.bends)
        yield "turn", say_turns(line)
        yield "make-up", say_made(line)
    else:
        yield "turn", f"{answer.turn_deg:.4g}°"
        yield "make-up", make_up(request.bend.kind).words(request.bend)
    yield "pipe", say_pipe(request.pipe.nps, request.pipe.schedule)
    yield "end A", end_prep(request.end_a.prep).word
    yield "end B", end_prep(request.end_b.prep).word
    yield "check dimension C", say_length(answer.check_mm, units)
    yield "leg A, turn center to end", say_length(answer.legs_mm[0], units)
    yield "leg B, turn center to end", say_length(answer.legs_mm[-1], units)
    if reading:
        yield "hand", reading.get_hand_display() if reading.hand else "not said"
        yield "up mark", reading.up_mark or "not said"


PIECE_WORDS = {"pipe": "cut length", "bent_pipe": "cut length", "elbow": "elbow"}


def _size_of(piece: Piece, units: str) -> str:
    """Return a pipe's cut length and slants, or an elbow's arcs as they are marked on it."""
    if piece.kind == "elbow":
        arcs = [f"{mark.name} {say_length(mark.value_mm, units)}" for mark in piece.marks if mark.unit == "mm"]
        return ", ".join([piece.made_from, *arcs])
    slants = [f"{end.at} cut at {end.cut_angle_deg:.4g}°" for end in piece.ends if end.cut_angle_deg]
    return ", ".join([say_length(piece.rounded_cut_mm, units), *slants])
