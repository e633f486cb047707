"""A proposal for the foreman: what has no bench yet, or stands on a bench that is down, shared out with reasons."""

from datetime import datetime

from django.db.models import QuerySet

from spools.flow.balance import Place, Proposal, Work, propose
from spools.flow.bench_hours import BenchHours
from spools.models import Bench, Person, Spool
from spools.queries.floor import IN_SHOP, puts_together, which_spools
from spools.queries.hours import hours_left, newest_welds
from spools.shop_calendar import calendar_of
from spools.turnaround.shifts import Calendar

MOST = 200


def proposal(person: Person, *, at: datetime, of_bench: Bench | None = None) -> Proposal:
    """Share out what is not assigned or, with a bench named, that bench's queue over the others."""
    learned, calendar = newest_welds(person.the_shop_id, at=at).hours, calendar_of(person.the_shop)
    if of_bench is None:
        waiting = list(which_spools("not_assigned", person, at=at)[:MOST])
    else:
        waiting = list(_queue(person).filter(bench=of_bench)[:MOST])
    works = [_work(spool, learned, calendar, at) for spool in waiting]
    return propose(works, _places(person, learned, but=of_bench))


def _work(spool: Spool, learned: BenchHours, calendar: Calendar, at: datetime) -> Work:
    hours = hours_left(spool, learned)
    left = calendar.working_hours(at, spool.due_at) if spool.due_at > at else -1.0
    return Work(
        spool.id, spool.label, spool.nps, hours.hours, hours.basis, spool.due_at, left, spool.rush, spool.schedule
    )


def _places(person: Person, learned: BenchHours, *, but: Bench | None) -> list[Place]:
    benches = Bench.objects.filter(shop_id=person.the_shop_id, is_active=True, down_since=None)
    able = [bench for bench in benches if puts_together(bench) and bench != but]
    queued = list(_queue(person).filter(bench__in=able))
    return [_place(bench, [spool for spool in queued if spool.bench_id == bench.id], learned) for bench in able]


def _place(bench: Bench, queue: list[Spool], learned: BenchHours) -> Place:
    hours = sum(hours_left(spool, learned).hours for spool in queue)
    set_up = queue[-1].nps if queue else bench.set_up_nps
    return Place(bench.id, bench.name, bench.takes, set_up, hours)


def _queue(person: Person) -> QuerySet[Spool]:
    return (
        Spool.objects.for_person(person)
        .open()
        .filter(next_step__in=IN_SHOP, hold_count=0)
        .select_related("tie_in")
        .order_by("-rush", "due_at", "id")
    )
