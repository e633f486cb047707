"""What must not be cut as planned: compared with the spools themselves on every look, and told in words."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutlists.models import Cut
from geometry.tables import pipe
from spools.flow.steps import say
from spools.models import Job, Piece, Spool
from spools.queries.old_paper import OldPaper, is_old_paper, old_paper_of
from spools.queries.old_pieces import compared, made_piece, piece_of, say_serves
from spools.queries.spool import scan_code
from spools.say_lengths import job_graduation


@dataclass(frozen=True, slots=True)
class Stop:
    """Why one planned cut stops, and the build that replaces its spool, if there is one."""

    cut: Cut
    reason: str
    newest: Spool | None = None
    cut_elsewhere: bool = False
    verdict: str = ""

    @property
    def words(self) -> str:
        """The sentence of the strip, and whether what is made of the old build still serves."""
        return f"{self.cut.piece} {self.reason} {self.verdict}".strip()

    @property
    def old_code(self) -> str:
        """The code of the old build's paper, which answers with what changed; empty where none is old."""
        return scan_code(self.cut.piece.spool) if is_old_paper(self.cut.piece.spool) else ""


def stop_of(cut: Cut, newest: dict[int, Spool]) -> Stop | None:
    """Return why a planned cut must not be made, or None. ``newest`` is each tie-in's live build, by tie-in."""
    spool = cut.piece.spool
    if not spool.live:
        replaced = newest.get(spool.tie_in_id)
        instead = f"; build {replaced.letter} is made instead" if replaced else ""
        return Stop(cut, f"was {say(spool.the_standing.ended or 'superseded')}{instead}.", replaced)
    if spool.hold_count:
        hold = spool.the_standing.holds[-1]
        return Stop(cut, f"is on hold: {hold.reason} ({hold.owner}).")
    if cut.build != spool.build:
        return Stop(cut, f"was planned for build {cut.build}; build {spool.letter} is made now.")
    if cut.piece.is_cut:
        return Stop(cut, "is recorded as cut already, but not from this bar.", cut_elsewhere=True)
    return None


def with_verdicts(stops: Sequence[Stop]) -> dict[int, Stop]:
    """Return stops by cut, those of old builds saying what the steel made of them is worth (few queries a build)."""
    old = {stop.cut.piece.spool_id for stop in stops if is_old_paper(stop.cut.piece.spool)}
    rows = Spool.objects.filter(id__in=old).select_related("shop", "reading", "tie_in__job").prefetch_related("pieces")
    answers = {spool.id: old_paper_of(spool) for spool in rows} if old else {}
    return {stop.cut.id: _said(stop, answers.get(stop.cut.piece.spool_id)) for stop in stops}


def _said(stop: Stop, answer: OldPaper | None) -> Stop:
    made = answer is not None and any(piece.is_made for piece in answer.pieces)
    return replace(stop, verdict=answer.verdict) if answer and made else stop


def newest_builds(cuts: Sequence[Cut]) -> dict[int, Spool]:
    """Return the live build of every tie-in whose planned build has ended (one query)."""
    ended = {cut.piece.spool.tie_in_id for cut in cuts if not cut.piece.spool.live}
    if not ended:
        return {}
    rows = Spool.objects.filter(tie_in_id__in=ended, live=True).select_related("tie_in").defer("solution", "route")
    return {spool.tie_in_id: spool for spool in rows}


def still_serves(old: Piece, new: Piece | None, job: Job) -> str:
    """Say whether a cut leg of a build that has ended still serves the newest build, with what its ends have on."""
    row = pipe(old.nps, old.schedule)
    piece = piece_of(old)
    answer = compared(
        made_piece(piece, old.spool.the_standing),
        piece_of(new) if new else None,
        pipe=row,
        graduation=job_graduation(job.units, job.graduation),
        same_material=new is None or old.material == new.material,
    )
    return say_serves(piece, answer, job.units, tolerance_mm=job.closing_tolerance_mm)
