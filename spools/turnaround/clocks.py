"""The clocks of one spool: field lag, shop clock, coating, door to door; none of them ever runs backward."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from spools.turnaround.facts import HoldSpan, SpoolFacts
from spools.turnaround.shifts import Calendar

SECONDS_IN_DAY = 86_400


@dataclass(frozen=True, slots=True)
class Elapsed:
    """How long a clock has run, and whether it still does."""

    amount: float
    running: bool


@dataclass(frozen=True, slots=True)
class Clocks:
    """All clocks of one spool; a clock that has not started is empty.

    ``shop_h`` is the promise: working hours from received-and-closes to accepted. Customer holds never stop it;
    ``shop_without_customer_hold_h`` is printed beside it. ``jumped`` says that a stamp lay before the one it follows,
    so a device's clock was wrong and that clock was counted as zero.
    """

    field_lag_h: Elapsed | None
    shop_h: Elapsed | None
    shop_without_customer_hold_h: Elapsed | None
    coating_days: Elapsed | None
    coating_working_days: float | None
    door_to_door_days: Elapsed | None
    jumped: bool


def clocks(spool: SpoolFacts, *, calendar: Calendar, at: datetime, galvanizer: Calendar | None = None) -> Clocks:
    """Return every clock of the spool as it stands at that moment."""
    lag_end = spool.received_at
    coating = _elapsed(spool.coating_out_at, spool.coating_back_at, at, per_second=1 / SECONDS_IN_DAY)
    return Clocks(
        field_lag_h=_elapsed(spool.taken_at, lag_end, at, per_second=1 / 3600),
        shop_h=_shop(spool, calendar=calendar, at=at, held=()),
        shop_without_customer_hold_h=_shop(
            spool, calendar=calendar, at=at, held=tuple(hold for hold in spool.holds if hold.customer)
        ),
        coating_days=coating,
        coating_working_days=_galvanizer_days(spool, galvanizer, at),
        door_to_door_days=door_to_door(spool, at=at),
        jumped=_jumped(spool),
    )


def shop_hours(spool: SpoolFacts, *, calendar: Calendar, at: datetime) -> Elapsed | None:
    """Return the shop clock alone, in working hours: the promise."""
    return _shop(spool, calendar=calendar, at=at, held=())


def door_to_door(spool: SpoolFacts, *, at: datetime) -> Elapsed | None:
    """Return the clock from the reading to the delivery alone, in calendar days."""
    return _elapsed(spool.taken_at, spool.delivered_at, at, per_second=1 / SECONDS_IN_DAY)


def late_hours(spool: SpoolFacts, *, calendar: Calendar, at: datetime) -> float:
    """Return the working hours by which the spool missed, or is missing, its due time; zero when in time."""
    if spool.due_at is None:
        return 0.0
    return calendar.working_hours(spool.due_at, spool.accepted_at or at)


def _shop(spool: SpoolFacts, *, calendar: Calendar, at: datetime, held: tuple[HoldSpan, ...]) -> Elapsed | None:
    start = spool.clock_start_at
    if start is None:
        return None
    end = spool.accepted_at or at
    seconds = calendar.working_seconds(start, end)
    for since, until in _union(held, start=start, end=end):
        seconds -= calendar.working_seconds(since, until)
    return Elapsed(max(seconds, 0.0) / 3600, running=spool.accepted_at is None)


def _union(holds: Iterable[HoldSpan], *, start: datetime, end: datetime) -> list[tuple[datetime, datetime]]:
    """Return the holds within the clock, each moment once, so that two holds at a time are not taken off twice."""
    merged: list[tuple[datetime, datetime]] = []
    for hold in sorted(holds, key=lambda hold: hold.since):
        since, until = max(hold.since, start), min(hold.until or end, end)
        if merged:
            since = max(since, merged[-1][1])
        if since < until:
            merged.append((since, until))
    return merged


def _elapsed(start: datetime | None, end: datetime | None, at: datetime, *, per_second: float) -> Elapsed | None:
    if start is None:
        return None
    seconds = ((end or at) - start).total_seconds()
    return Elapsed(max(seconds, 0.0) * per_second, running=end is None)


def _galvanizer_days(spool: SpoolFacts, galvanizer: Calendar | None, at: datetime) -> float | None:
    if galvanizer is None or spool.coating_out_at is None:
        return None
    hours = galvanizer.working_hours(spool.coating_out_at, spool.coating_back_at or at)
    return hours / galvanizer.usual_day_hours()


def _jumped(spool: SpoolFacts) -> bool:
    pairs = (
        (spool.taken_at, spool.received_at),
        (spool.clock_start_at, spool.accepted_at),
        (spool.coating_out_at, spool.coating_back_at),
        (spool.taken_at, spool.delivered_at),
    )
    return any(
        start is not None and end is not None and end.astimezone(UTC) < start.astimezone(UTC) for start, end in pairs
    )
