"""Whole spools of builds that have ended, and the open tie-ins that each could still serve."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from spools.flow.saves import Save, Shape, places_for
from spools.models import Person, Spool

LATELY = timedelta(days=90)
MOST, SHOWN = 50, 3
MOST_OPEN = 2000


@dataclass(frozen=True, slots=True)
class Place:
    """One tie-in's live build that a spare could stand in for."""

    spool: Spool
    save: Save


@dataclass(frozen=True, slots=True)
class Spare:
    """One welded spool whose build has ended, why it has, and where it could go."""

    spool: Spool
    why: str
    places: tuple[Place, ...]


ONE_BEND = {"box_mm__isnull": True}  # two bends with a roll between them serve no other place


def spares(person: Person, *, at: datetime) -> list[Spare]:
    """Return the spares of the last months, the newest first, each with its best places (three queries)."""
    ended = (
        Spool.objects.for_person(person)
        .filter(
            live=False, last_event_at__gte=at - LATELY, standing__ended="superseded", route__welds__gt=0, **ONE_BEND
        )
        .for_lists()
        .prefetch_related("events")
        .defer("solution")
        .order_by("-last_event_at")[:MOST]
    )
    welded = [spool for spool in ended if spool.the_standing.done.get("welded")]
    sizes = {spool.nps for spool in welded}
    waiting = Spool.objects.for_person(person).live().filter(next_step="cut", hold_count=0, nps__in=sizes, **ONE_BEND)
    waiting = waiting.for_lists().defer("solution", "route", "standing").order_by("due_at", "id")
    by_id = {spool.id: spool for spool in waiting[:MOST_OPEN]}
    shapes = [_shape(spool) for spool in by_id.values()]
    found = []
    for spool in welded:
        saves = places_for(_shape(spool), shapes, tolerance_mm=spool.check_tolerance_mm)
        places = tuple(Place(by_id[save.id], save) for save in saves[:SHOWN])
        found.append(Spare(spool, _why(spool), places))
    return found


def _shape(spool: Spool) -> Shape:
    tie_in = spool.tie_in
    pipe = (spool.nps, spool.schedule, tie_in.material)
    return Shape(spool.id, pipe, tie_in.end_a, tie_in.end_b, spool.turn_deg, spool.leg_a_mm, spool.leg_b_mm)


def _why(spool: Spool) -> str:
    ended = [event.reason for event in spool.events.all() if event.code == "superseded"]
    return ended[-1] if ended else ""
