"""What the set-up pages show: how much of each there is, benches, jigs with their versions, the days to come."""

from dataclasses import dataclass
from datetime import date, time

from django.db.models import Count, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from spools.errors import not_found
from spools.models import Bench, Jig, Job, Person, PipeSpec, Spool
from spools.models.shopcalendar import ClosedDay, WorkedDay

DAYS_SHOWN = 100


@dataclass(frozen=True, slots=True)
class SetupCounts:
    """How much of each there is."""

    people: int
    without_digits: int
    benches: int
    jigs: int
    jobs: int
    specs: int


@dataclass(frozen=True, slots=True)
class OwnDay:
    """A day that is not as its weekday: closed for a reason, or worked by hours of its own."""

    day: date
    reason: str
    shifts: tuple[tuple[time, time], ...]
    is_open: bool


def counts_of_setup(person: Person) -> SetupCounts:
    """Count the parts of the set-up."""
    shop = person.the_shop
    people = shop.people.filter(is_active=True)
    return SetupCounts(
        people=people.count(),
        without_digits=sum(not one.pin for one in people if {"cutter", "fitter", "driver"} & set(one.roles)),
        benches=shop.benches.filter(is_active=True).count(),
        jigs=shop.jigs.count(),
        jobs=shop.jobs.filter(is_open=True).count(),
        specs=PipeSpec.objects.filter(job__shop=shop, job__is_open=True).count(),
    )


def units_of_shop(person: Person) -> str:
    """Return how lengths are typed where no job is meant: as on the newest open job."""
    jobs = Job.objects.filter(shop_id=person.the_shop_id, is_open=True).order_by("-id")
    return jobs.values_list("units", flat=True).first() or "us"


def benches_to_set_up(person: Person) -> QuerySet[Bench]:
    """Return every bench, those out of use last, each with the spools that stand on it."""
    here = Spool.objects.in_shop().filter(bench=OuterRef("id")).order_by().values("bench")
    standing = Coalesce(Subquery(here.annotate(count=Count("id")).values("count")), 0)
    return Bench.objects.filter(shop_id=person.the_shop_id).annotate(standing=standing).order_by("-is_active", "name")


def bench_to_set_up(bench_id: int, person: Person) -> Bench:
    """Return one bench, in use or not. Raises ``ShopError`` not_found."""
    found = Bench.objects.filter(shop_id=person.the_shop_id, id=bench_id).first()
    if found is None:
        raise not_found("bench of that name")
    return found


def jigs_to_set_up(person: Person) -> QuerySet[Jig]:
    """Return the jigs with all versions of their set points, the newest first."""
    return Jig.objects.filter(shop_id=person.the_shop_id).prefetch_related("set_points")


def jig_to_set_up(jig_id: int, person: Person) -> Jig:
    """Return one jig. Raises ``ShopError`` not_found."""
    found = jigs_to_set_up(person).filter(id=jig_id).first()
    if found is None:
        raise not_found("jig of that number")
    return found


def jobs_to_set_up(person: Person, *, is_open: bool) -> QuerySet[Job]:
    """Return the open or the closed jobs with their mains."""
    return Job.objects.for_person(person).filter(is_open=is_open).prefetch_related("mains").order_by("number")


def own_days(person: Person, *, first_open: date) -> list[OwnDay]:
    """Return the days that are not as their weekday, the latest first."""
    shop = person.the_shop
    closed: list[ClosedDay] = list(shop.closed_days.order_by("-day")[:DAYS_SHOWN])
    worked: list[WorkedDay] = list(shop.worked_days.order_by("-day", "start")[: 2 * DAYS_SHOWN])
    hours: dict[date, list[tuple[time, time]]] = {}
    for row in worked:
        hours.setdefault(row.day, []).append((row.start, row.end))
    rows = [OwnDay(one.day, one.reason, (), one.day >= first_open) for one in closed]
    rows += [OwnDay(day, "", tuple(shifts), day >= first_open) for day, shifts in hours.items()]
    return sorted(rows, key=lambda row: row.day, reverse=True)
