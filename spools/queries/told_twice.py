"""What two people told differently of one step, as the foreman picks between them."""

from collections.abc import Iterable
from dataclasses import dataclass

from spools.flow.disputes import TOLD_TWICE
from spools.models import Event, Spool


@dataclass(frozen=True, slots=True)
class ToldTwice:
    """One hold of two people's words: the words in full, and each one's (none on a hold from before both were kept)."""

    spool: Spool
    hold: int
    words: str
    both: tuple[str, ...]


def told_of(spool: Spool, events: Iterable[Event]) -> list[ToldTwice]:
    """Return what is told twice of a spool, from its open holds and their events (no query)."""
    holds = [hold for hold in spool.the_standing.holds if hold.reason.startswith(TOLD_TWICE)]
    kept = {event.number: event.details.get("told", {}) for event in events if event.code == "held"}
    return [ToldTwice(spool, one.number, one.reason, tuple(kept.get(one.number, {}).get("both", ()))) for one in holds]


def told_twice(spools: Iterable[Spool]) -> list[ToldTwice]:
    """Return what is told twice of several spools on hold (one query, none where there is nothing)."""
    disputed = [
        spool for spool in spools if any(hold.reason.startswith(TOLD_TWICE) for hold in spool.the_standing.holds)
    ]
    if not disputed:
        return []
    events = list(Event.objects.filter(spool__in=disputed, code="held"))
    return [row for spool in disputed for row in told_of(spool, [e for e in events if e.spool_id == spool.id])]
