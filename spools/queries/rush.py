"""What a rush would push back, and how many rushes are open against the work in hand."""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Q

from spools.flow.rushes import OpenRushes
from spools.models import Person, Spool
from spools.queries.floor import IN_SHOP
from spools.queries.hours import hours_left, newest_welds
from spools.shop_calendar import calendar_of

SHOWN = 20


@dataclass(frozen=True, slots=True)
class PushedBack:
    """One spool that would wait longer; ``late`` if that makes it miss its time."""

    spool: Spool
    late: bool


@dataclass(frozen=True, slots=True)
class RushAsked:
    """What the foreman sees before he rushes a spool: in front of what it goes, and by how long that waits longer."""

    spool: Spool
    pushed: tuple[PushedBack, ...]
    hours: float
    basis: str
    rushes: OpenRushes

    @property
    def made_late(self) -> int:
        """How many would miss their time by it."""
        return sum(one.late for one in self.pushed)


def open_rushes(person: Person) -> OpenRushes:
    """Count the rushes in the shop (one query)."""
    counts = (
        Spool.objects.for_person(person)
        .live()
        .filter(next_step__in=IN_SHOP)
        .aggregate(rushed=Count("id", filter=Q(rush=True)), in_work=Count("id"))
    )
    return OpenRushes(counts["rushed"], counts["in_work"])


def rush_asked(spool: Spool, person: Person, *, at: datetime) -> RushAsked:
    """Return what rushing a spool pushes back: on its bench, or among what waits for the same step."""
    learned, calendar = newest_welds(person.the_shop_id, at=at).hours, calendar_of(person.the_shop)
    need = hours_left(spool, learned)
    same = Q(bench_id=spool.bench_id) if spool.bench_id else Q(bench=None, next_step=spool.next_step)
    queue = (
        Spool.objects.for_person(person)
        .live()
        .filter(same, next_step__in=IN_SHOP, hold_count=0, rush=False)
        .filter(Q(due_at__lt=spool.due_at) | Q(due_at=spool.due_at, id__lt=spool.id))
        .for_lists()
        .order_by("due_at", "id")
    )
    pushed, front_h = [], 0.0
    for other in queue[:SHOWN]:
        front_h += hours_left(other, learned).hours if spool.bench_id else 0.0
        left_h = calendar.working_hours(at, other.due_at) if other.due_at > at else -1.0
        in_time = left_h >= front_h
        pushed.append(PushedBack(other, late=bool(spool.bench_id) and in_time and left_h < front_h + need.hours))
    return RushAsked(spool, tuple(pushed), round(need.hours, 1), need.basis, open_rushes(person))
