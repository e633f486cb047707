"""What each piece of an old build is worth for the newer one: said piece by piece, then in one sentence."""

from dataclasses import dataclass

from geometry.lengths import Graduation
from geometry.pieces import Mark, Piece, PieceEnd
from geometry.reuse import SLACK_MM, MadePiece, Serves, serves
from geometry.tables import PipeRow
from spools.flow.routes import SPOOL, Route, end_target
from spools.flow.status import Standing
from spools.flow.steps import BY_CODE
from spools.models import Piece as PieceRow
from spools.models import Spool
from spools.say_lengths import say_length
from spools.stored_solutions import Solution

END_STEPS = tuple(code for code, step in BY_CODE.items() if step.on == "end")
UNTOUCHED = ("not cut", "as it came")
ZINC = "It has zinc on: what is cut again is bare. Grind the zinc off before any weld; its fumes make people ill."
CUT_APART = "Welded up as it is it doesn't serve: the foreman says whether it is cut apart or scrapped."
MADE_THERE = {"grooved": "groove", "beveled": "bevel", "threaded": "thread", "coped": "cope"}
REFUSALS = {
    "pipe": "is of other pipe",
    "kind": "is made in another way now",
    "bend": "has another bend",
    "welded": "is welded where it would have to be cut",
    "end": "has its end made in another way, with no length left to cut that off",
    "groove": "is {over} long, but cutting that off would leave part of a groove or thread in the pipe",
    "material": "is of other material",
    "gone": "isn't needed any more",
}


@dataclass(frozen=True, slots=True)
class PieceAnswer:
    """One piece of the old build: what is done to it, what it is worth now, in words. Nothing made is worth nothing."""

    mark: str
    state: str
    answer: Serves
    words: str

    @property
    def is_made(self) -> bool:
        """Whether there is steel to decide about."""
        return self.state not in UNTOUCHED


def piece_answers(spool: Spool, old: Solution, new: Solution, *, material: str) -> tuple[PieceAnswer, ...]:
    """Compare every piece of the old solution with the piece of that mark in the new one."""
    made_of = {piece.mark: piece.material for piece in spool.pieces.all()}
    wanted = {piece.mark: piece for piece in new.answer.pieces}
    standing, route = spool.the_standing, spool.the_route
    found = []
    for piece in old.answer.pieces:
        state = _state(piece, standing, route)
        made = made_piece(piece, standing)
        answer = compared(
            made,
            wanted.get(piece.mark),
            pipe=old.request.pipe,
            graduation=new.request.graduation,
            same_material=made_of.get(piece.mark, material) == material,
        )
        words = (
            ""
            if state in UNTOUCHED
            else say_serves(piece, answer, spool.tie_in.job.units, tolerance_mm=spool.check_tolerance_mm)
        )
        found.append(PieceAnswer(piece.mark, state, answer, words))
    return tuple(found)


def compared(
    made: MadePiece, new: Piece | None, *, pipe: PipeRow, graduation: Graduation, same_material: bool
) -> Serves:
    """Compare one made piece with what is needed of its mark, if anything is."""
    if new is None:
        return Serves("no", why="gone")
    if not same_material:
        return Serves("no", why="material")
    return serves(made, new, pipe=pipe, graduation=graduation)


def made_piece(piece: Piece, standing: Standing) -> MadePiece:
    """Return a piece with what is recorded as done at its two ends."""
    up = SPOOL in standing.done.get("welded", ())
    first, last = (_done_at(piece.mark, number, standing) for number in (1, len(piece.ends)))
    at_weld = tuple(up and end.at.startswith("weld") for end in (piece.ends[0], piece.ends[-1]))
    return MadePiece(piece, (first, last), (at_weld[0], at_weld[1]))


def piece_of(row: PieceRow) -> Piece:
    """Return a kept piece of pipe as the geometry compares it, without its spool's whole solution."""
    return Piece(
        mark=row.mark,
        kind=row.kind,
        nps=row.nps,
        schedule=row.schedule,
        cut_length_mm=row.exact_cut_mm or 0.0,
        rounded_cut_mm=row.cut_mm or 0.0,
        ends=tuple(PieceEnd(**end | {"operations": tuple(end["operations"])}) for end in row.ends),
        mass_kg=row.kg,
        marks=tuple(Mark(**mark) for mark in row.marks),
        stock_length_mm=row.stock_mm,
    )


def say_serves(piece: Piece, answer: Serves, units: str, *, tolerance_mm: float = 0.0) -> str:
    """Say what a piece is worth: ``A can be cut down by 3/8" at end A``.

    Straight pipe that is off by no more than the check dimension may be (``tolerance_mm``) is the foreman's to take as
    it is; an elbow never, for a turn that is off throws the far end off by much more.
    """
    mark, off = piece.mark, say_length(abs(answer.off_mm), units)
    off += " on the heel" if piece.kind == "elbow" else ""
    near = piece.kind == "pipe" and answer.off_mm <= tolerance_mm + SLACK_MM
    if answer.verdict in {"trim", "short"} and not answer.why and near:
        way = "short" if answer.verdict == "short" else "long"
        cut = f"cut it down at {' and '.join(answer.at)}, or " if answer.at else ""
        return (
            f"{mark} is {off} {way}, within the {say_length(tolerance_mm, units)} that C allows: {cut}ask the foreman"
        )
    if answer.verdict == "good":
        return f"{mark} is still good"
    if answer.verdict == "short":
        before = ", to have its end made in another way" if answer.why else ""
        return f"{mark} is short by {off}{before}: it does not serve"
    if answer.verdict == "trim":
        gone = " and ".join(MADE_THERE.get(code, code) for code in answer.lost)
        after = f"; the {gone} there comes off with it: make that end anew" if gone else ""
        return f"{mark} can be cut down by {off} at {' and '.join(answer.at)}{after}"
    return f"{mark} {REFUSALS[answer.why].format(over=off)}: it does not serve"


def sum_up(spool: Spool, pieces: tuple[PieceAnswer, ...]) -> str:
    """Say in one sentence what becomes of the steel."""
    made = [piece for piece in pieces if piece.is_made]
    if not pieces:
        return "Leave what is made of it where it is."
    if not made:
        return "Nothing of it is made yet: no steel is lost. Throw this paper away."
    words = "; ".join(piece.words for piece in made) + "."
    standing = spool.the_standing
    if SPOOL in standing.done.get("welded", ()) and any(piece.answer.verdict in {"short", "no"} for piece in made):
        words = CUT_APART  # what each piece would be worth then is said beside it
    if standing.ended == "scrapped":
        words = f"{words} That is by its figures: it was scrapped, so look at the steel first."
    return f"{words} {ZINC}" if standing.done.get("at_coating") else words


def _state(piece: Piece, standing: Standing, route: Route) -> str:
    if piece.mark in route.sawn() and piece.mark not in standing.done.get("cut", ()):
        return "not cut"
    words = ["cut" if piece.mark in route.sawn() else "as it came"]
    words += [
        f"{BY_CODE[code].word} at {end.at}"
        for number, end in enumerate(piece.ends, start=1)
        for code in sorted(_done_at(piece.mark, number, standing))
    ]
    if SPOOL in standing.done.get("welded", ()):
        words.append("welded up")
    return ", ".join(words)


def _done_at(mark: str, number: int, standing: Standing) -> frozenset[str]:
    target = end_target(mark, number)
    return frozenset(code for code in END_STEPS if target in standing.done.get(code, ()))
