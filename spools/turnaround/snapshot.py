"""The shop as known at one moment: what every figure is made from."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from spools.turnaround.facts import SpoolFacts, live_builds
from spools.turnaround.shifts import Calendar


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One build for each tie-in as of a moment, with the shop's calendar; make it with ``snapshot``."""

    spools: tuple[SpoolFacts, ...]
    at: datetime
    calendar: Calendar

    def day_of(self, at: datetime) -> date:
        """Return the shop's local day of a moment."""
        return self.calendar.local(at).date()

    def week_of(self, at: datetime) -> date:
        """Return the Monday of the shop's local week of a moment."""
        day = self.day_of(at)
        return day - timedelta(days=day.weekday())


def snapshot(builds: Iterable[SpoolFacts], *, at: datetime, calendar: Calendar) -> Snapshot:
    """Fold all builds to one for each tie-in, forgetting whatever happened after ``at``."""
    return Snapshot(live_builds(builds, at=at), at, calendar)


def is_due(spool: SpoolFacts, at: datetime) -> bool:
    """Tell whether the spool's due time has come."""
    return spool.due_at is not None and spool.due_at <= at


def is_on_time(spool: SpoolFacts) -> bool:
    """Tell whether the spool was accepted by its due time."""
    return spool.due_at is not None and spool.accepted_at is not None and spool.accepted_at <= spool.due_at


def is_late(spool: SpoolFacts, at: datetime) -> bool:
    """Tell whether the spool missed its due time, accepted since or still open."""
    return is_due(spool, at) and not is_on_time(spool)
