"""Old paper answers back: what changed since it was printed, and whether what is cut still serves."""

from dataclasses import dataclass

from spools.flow.steps import ENDING, say
from spools.models import Spool
from spools.queries.old_pieces import PieceAnswer, piece_answers, sum_up
from spools.queries.what_changed import Change, what_changed
from spools.stored_readings import judge_stored
from spools.stored_solutions import Solution, read_solution


@dataclass(frozen=True, slots=True, kw_only=True)
class OldPaper:
    """Why a build's paper no longer counts, what is made instead, old and new figures, and each piece's worth."""

    spool: Spool
    instead: Spool | None
    why: str
    now: str
    changes: tuple[Change, ...]
    pieces: tuple[PieceAnswer, ...]
    verdict: str


def is_old_paper(spool: Spool) -> bool:
    """Tell whether paper of this build is old: the build has ended, or waits because it was measured again."""
    measured_again = spool.tie_in.current_reading_id not in {None, spool.reading_id}
    return not spool.live or bool(measured_again and spool.hold_count)


def old_paper_of(spool: Spool) -> OldPaper | None:
    """Return what old paper has to say; None for a build that counts (no query then)."""
    if not is_old_paper(spool):
        return None
    instead = (
        Spool.objects.filter(tie_in_id=spool.tie_in_id, live=True)
        .exclude(id=spool.id)
        .select_related("tie_in", "reading")
        .first()
    )
    old = read_solution(spool.solution)
    new = read_solution(instead.solution) if instead else _not_released(spool)
    pieces = piece_answers(spool, old, new, material=spool.tie_in.material) if new else ()
    return OldPaper(
        spool=spool,
        instead=instead,
        why=_why(spool),
        now=_now(spool, instead, new),
        changes=what_changed(spool, old, new, instead=instead) if new else (),
        pieces=pieces,
        verdict=sum_up(spool, pieces),
    )


def _not_released(spool: Spool) -> Solution | None:
    """Return the solution of a newer reading that nobody has released yet, where it could be built."""
    reading = spool.tie_in.current_reading
    if reading is None or reading.id == spool.reading_id:
        return None
    judged = judge_stored(reading)
    if judged.request is None or judged.answer is None or not judged.answer.buildable:
        return None
    return Solution(judged.request, judged.answer)


def _why(spool: Spool) -> str:
    if spool.live:
        hold = spool.the_standing.holds[-1]
        return f"Build {spool.letter} is on hold: {hold.reason}."
    ended = spool.events.filter(code__in=ENDING).select_related("person").order_by("-number").first()
    if ended is None:
        return f"Build {spool.letter} has ended."
    local = ended.done_at.astimezone(spool.shop.zone)
    because = f": {ended.reason}" if ended.reason else ""
    return f"Build {spool.letter} was {say(ended.code)}, {local:%a %-d %b %H:%M} by {ended.person.short_name}{because}."


def _now(spool: Spool, instead: Spool | None, new: Solution | None) -> str:
    if instead and is_old_paper(instead):
        return f"{instead.label} came after it, and waits too: it was measured again."
    if instead:
        return f"{instead.label} is made instead."
    reading = spool.tie_in.current_reading
    if reading is None or reading.id == spool.reading_id:
        return "Nothing is made instead yet: ask the foreman."
    if new is None:
        return f"Reading {reading.letter} doesn't make a spool as it is: the foreman decides."
    return f"Reading {reading.letter} isn't released yet: the foreman decides."
