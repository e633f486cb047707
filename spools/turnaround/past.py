"""What the shop did on its past whole days: measured and accepted per day, and how long coating trips took."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from spools.turnaround.facts import SpoolFacts
from spools.turnaround.shifts import ONE_DAY
from spools.turnaround.snapshot import Snapshot
from spools.turnaround.survival import Duration


@dataclass(frozen=True, slots=True)
class PastDay:
    """One whole working day: tie-ins measured (received) and spools accepted on it."""

    day: date
    measured: int
    accepted: int


def past_days(shop: Snapshot) -> tuple[PastDay, ...]:
    """Return every whole working day since the first receipt, the snapshot's own day left out.

    What happened on a day without a shift counts to the next working day.
    """
    measured = _by_working_day(shop, (spool.received_at for spool in shop.spools))
    accepted = _by_working_day(shop, (spool.accepted_at for spool in shop.spools))
    if not measured:
        return ()
    days = shop.calendar.working_days(min(measured), shop.day_of(shop.at) - ONE_DAY)
    return tuple(PastDay(day, measured[day], accepted[day]) for day in days)


def _by_working_day(shop: Snapshot, moments: Iterable[datetime | None]) -> Counter[date]:
    return Counter(shop.calendar.working_day_from(shop.day_of(at)) for at in moments if at is not None)


def trips(shop: Snapshot) -> tuple[Duration, ...]:
    """Return for each day's accepted spools the calendar days until the last of them was delivered.

    A day of which something is not yet delivered is open work with its present age.
    """
    batches: dict[date, list[SpoolFacts]] = defaultdict(list)
    for spool in shop.spools:
        if spool.accepted_at is not None:
            batches[shop.day_of(spool.accepted_at)].append(spool)
    return tuple(_trip(shop, day, batch) for day, batch in sorted(batches.items()))


def _trip(shop: Snapshot, accepted: date, batch: list[SpoolFacts]) -> Duration:
    delivered = [spool.delivered_at for spool in batch if spool.delivered_at is not None]
    finished = len(delivered) == len(batch)
    last = shop.day_of(max(delivered)) if finished else shop.day_of(shop.at)
    return Duration(max((last - accepted).days, 0), finished)
