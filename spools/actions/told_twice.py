"""Two people tell the same step of a spool, and not the same of it: that is for the foreman to sort out."""

from dataclasses import dataclass
from datetime import datetime

from spools.actions.hold_spool import hold_spool
from spools.flow.disputes import TOLD_TWICE
from spools.flow.steps import say
from spools.models import Bench, Event, Person, Spool
from spools.say_lengths import say_length
from spools.transactions import part_key

SAME_MM = 25.4 / 16  # two people reading one tape differ by that. Common practice, no source.


def key_of_dispute(key: str) -> str:
    """Return the key of the hold that a tap leads to where it disagrees with the first."""
    return part_key(key, "twice")


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the second person told of a step that somebody had told first."""

    bench_id: int | None
    check_mm: float | None
    included_deg: float | None = None
    procedure: str = ""
    done_at: datetime | None = None


def dispute(first: Event, spool: Spool, *, told: Told, person: Person, key: str, at: datetime) -> str:
    """Hold the spool for the foreman where a second person tells another bench or another length; return the words.

    The hold keeps what the second one told, so that the foreman picks either in one tap (``pick_told``). Nothing, and
    no hold, where both say the same, or the second says nothing that the first could be held against.
    """
    if first.person_id == person.id:
        return ""
    both = _benches(first, person, told.bench_id) or _lengths(first, spool, person, told.check_mm)
    if not both:
        return ""
    words = " and ".join(both)
    hold_spool(
        spool_id=spool.id,
        person=person,
        key=key_of_dispute(key),
        at=at,
        reason=f"{TOLD_TWICE}: {say(first.code)} {words}",
        owner="foreman",
        as_shop=True,
        more={
            "told": {
                "first": first.number,
                "step": first.code,
                "both": list(both),
                "bench": told.bench_id,
                "check_mm": told.check_mm,
                "included_deg": told.included_deg,
                "procedure": told.procedure,
                "done_at": (told.done_at or at).isoformat(),
            }
        },
    )
    return f"{words}: the foreman sorts it out"


def _benches(first: Event, person: Person, bench_id: int | None) -> tuple[str, ...]:
    if first.code != "welded" or bench_id is None or first.bench_id in {None, bench_id}:
        return ()
    benches = Bench.objects.in_bulk([bench_id, first.bench_id])
    here, there = benches[bench_id], benches[first.bench_id]
    return f"on {there.called} by {first.person.short_name}", f"on {here.called} by {person.short_name}"


def _lengths(first: Event, spool: Spool, person: Person, check_mm: float | None) -> tuple[str, ...]:
    before_mm = first.details.get("check_mm")
    if check_mm is None or before_mm is None or abs(check_mm - before_mm) <= SAME_MM:
        return ()
    units = spool.tie_in.job.units
    return (
        f"with C {say_length(before_mm, units)} by {first.person.short_name}",
        f"with C {say_length(check_mm, units)} by {person.short_name}",
    )
