"""When benches were down and how many working hours that cost."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import QuerySet

from spools.flow.roles import Role
from spools.models import BenchStop, Person
from spools.shop_calendar import calendar_of
from spools.turnaround.shifts import Calendar

LATELY = timedelta(days=42)
SHOWN = 20
MOST = 200
TOLD = frozenset({Role.FITTER, Role.FOREMAN, Role.MANAGER})


@dataclass(frozen=True, slots=True)
class Lost:
    """One stop, the shop's day on which it began, and the working hours it took, so far where it goes on."""

    stop: BenchStop
    day: date
    hours: float

    @property
    def short(self) -> str:
        """A few words for a chart: ``Groover down 11 h``."""
        called = self.stop.bench.called
        return f"{called[:1].upper()}{called[1:]} down {self.hours:.0f} h"

    def overlaps(self, since: datetime, until: datetime) -> bool:
        """Tell whether the bench was down at some moment between two."""
        return self.stop.down_at <= until and (self.stop.up_at is None or self.stop.up_at >= since)

    @property
    def goes_on(self) -> bool:
        """Whether the bench is still down."""
        return self.stop.up_at is None


@dataclass(frozen=True, slots=True)
class BenchLost:
    """What one bench lost lately, over all its stops."""

    name: str
    stops: int
    hours: float


def lost_lately(person: Person, *, at: datetime, bench_id: int | None = None) -> list[Lost]:
    """Return the stops of the last six weeks, newest first, of one bench or of all (one query and the calendar)."""
    found = _stops(person, at - LATELY)
    if bench_id is not None:
        found = found.filter(bench_id=bench_id)
    stops = list(found[:MOST])
    return _lost(stops, calendar_of(person.the_shop), at) if stops else []


def lost_since(
    person: Person, *, since: datetime, at: datetime, calendar: Calendar, until: datetime | None = None
) -> list[Lost]:
    """Return the stops that fell between two moments, or until now, newest first (one query)."""
    return _lost(_stops(person, since).filter(down_at__lt=until or at)[:MOST], calendar, at)


def _stops(person: Person, since: datetime) -> QuerySet[BenchStop]:
    stops = BenchStop.objects.filter(bench__shop_id=person.the_shop_id).exclude(up_at__lt=since)
    return stops.select_related("bench", "by").order_by("-down_at", "-id")


def _lost(stops: Iterable[BenchStop], calendar: Calendar, at: datetime) -> list[Lost]:
    return [Lost(stop, calendar.local(stop.down_at).date(), hours_lost(stop, calendar, at)) for stop in stops]


def hours_lost(stop: BenchStop, calendar: Calendar, at: datetime) -> float:
    """Return the working hours between down and up, or until now; nights and closed days cost nothing."""
    return round(calendar.working_hours(stop.down_at, max(stop.down_at, stop.up_at or at)), 1)


def by_bench(lost: Iterable[Lost]) -> list[BenchLost]:
    """Add stops up by bench, the one that lost most first."""
    sums: dict[str, tuple[int, float]] = {}
    for one in lost:
        count, hours = sums.get(one.stop.bench.called, (0, 0.0))
        sums[one.stop.bench.called] = (count + 1, hours + one.hours)
    rows = [BenchLost(name, count, round(hours, 1)) for name, (count, hours) in sums.items()]
    return sorted(rows, key=lambda row: (-row.hours, row.name))


def stops_told(person: Person, *, at: datetime) -> list[BenchStop]:
    """Return the benches that are down now, for those whose work it concerns."""
    if not person.may(TOLD):
        return []
    down = BenchStop.objects.filter(bench__shop_id=person.the_shop_id, up_at=None)
    return list(down.exclude(by=person).select_related("bench", "by")[:SHOWN])
