"""Open work by age, with whose move it is, and the line the foreman reads at six in the morning."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from spools.turnaround.clocks import late_hours, shop_hours
from spools.turnaround.facts import HoldSpan, SpoolFacts
from spools.turnaround.shifts import Calendar
from spools.turnaround.snapshot import Snapshot, is_due
from spools.turnaround.survival import percentile

Standing = Literal["late", "at risk", "in time", "not started"]

FEWEST_TO_LEARN = 8  # with fewer past spools than this nothing is learned from them
AT_RISK_H = 2.0  # then a spool is at risk with less than this left, in working hours; the shop may set another


@dataclass(frozen=True, slots=True)
class RemainingWork:
    """After that step (empty: none yet) 85 of 100 past spools needed at most so many working hours to be accepted."""

    after: str
    n: int
    p85_h: float


@dataclass(frozen=True, slots=True)
class OpenSpool:
    """One open spool: where it stands against its due time, for how long, and whose move it is."""

    mark: str
    next_step: str
    whose_move: str
    reason: str
    held: bool
    standing: Standing
    shop_h: float
    days: float
    due_at: datetime | None
    late_h: float


def remaining_work(shop: Snapshot) -> tuple[RemainingWork, ...]:
    """Return what past spools still needed after each step, learned from the accepted ones."""
    hours: dict[str, list[float]] = defaultdict(list)
    for spool in shop.spools:
        if spool.accepted_at is None or spool.clock_start_at is None:
            continue
        hours[""].append(shop.calendar.working_hours(spool.clock_start_at, spool.accepted_at))
        for step in spool.steps:
            if step.done_at < spool.accepted_at:
                hours[step.step].append(shop.calendar.working_hours(step.done_at, spool.accepted_at))
    return tuple(
        RemainingWork(after, len(values), p85)
        for after, values in hours.items()
        if (p85 := percentile(values, 85)) is not None
    )


def standing(spool: SpoolFacts, *, calendar: Calendar, at: datetime, needed: tuple[RemainingWork, ...]) -> Standing:
    """Return whether an open spool is late, at risk (less time left than past spools needed from here) or in time."""
    if spool.due_at is None:
        return "not started"
    if is_due(spool, at):
        return "late"
    last = max(spool.steps, key=lambda step: step.done_at).step if spool.steps else ""
    need = next((work.p85_h for work in needed if work.after == last and work.n >= FEWEST_TO_LEARN), AT_RISK_H)
    return "at risk" if calendar.working_hours(at, spool.due_at) < need else "in time"


def aging(shop: Snapshot, *, until: Literal["accepted", "delivered"] = "accepted") -> tuple[OpenSpool, ...]:
    """Return the open spools, oldest first; open means not yet accepted, or not yet delivered if that is asked for."""
    needed = remaining_work(shop)
    still_open = [spool for spool in shop.spools if _is_open(spool, until)]
    still_open.sort(key=lambda spool: (spool.clock_start_at or shop.at, spool.mark))
    return tuple(_open_spool(spool, shop, needed) for spool in still_open)


def _is_open(spool: SpoolFacts, until: Literal["accepted", "delivered"]) -> bool:
    return spool.delivered_at is None and (until == "delivered" or spool.accepted_at is None)


def _open_spool(spool: SpoolFacts, shop: Snapshot, needed: tuple[RemainingWork, ...]) -> OpenSpool:
    elapsed = shop_hours(spool, calendar=shop.calendar, at=shop.at)
    hold = open_hold(spool)
    since = spool.clock_start_at or spool.received_at
    accepted = spool.accepted_at is not None
    return OpenSpool(
        mark=spool.mark,
        next_step=spool.next_step,
        whose_move=hold.owner if hold else spool.whose_move,
        reason=hold.reason if hold else f"next: {spool.next_step}" if spool.next_step else "",
        held=hold is not None,
        standing="in time" if accepted else standing(spool, calendar=shop.calendar, at=shop.at, needed=needed),
        shop_h=elapsed.amount if elapsed else 0.0,
        days=max((shop.at - since).total_seconds(), 0.0) / 86_400,
        due_at=spool.due_at,
        late_h=late_hours(spool, calendar=shop.calendar, at=shop.at),
    )


def open_hold(spool: SpoolFacts) -> HoldSpan | None:
    """Return the longest standing hold that is still open."""
    return min((hold for hold in spool.holds if hold.until is None), key=lambda hold: hold.since, default=None)


@dataclass(frozen=True, slots=True)
class TodayLine:
    """Marks of the spools due today, those of them accepted, the open ones at risk, and all late ones."""

    due_today: tuple[str, ...]
    done: tuple[str, ...]
    at_risk: tuple[str, ...]
    late: tuple[str, ...]


def today_line(shop: Snapshot, open_spools: tuple[OpenSpool, ...] | None = None) -> TodayLine:
    """Return the foreman's four numbers, each as its list of marks; ``open_spools`` saves working out ``aging``."""
    today = shop.day_of(shop.at)
    due = [spool for spool in shop.spools if spool.due_at is not None and shop.day_of(spool.due_at) == today]
    still_open = aging(shop) if open_spools is None else open_spools
    return TodayLine(
        due_today=tuple(spool.mark for spool in due),
        done=tuple(spool.mark for spool in due if spool.accepted_at is not None),
        at_risk=tuple(spool.mark for spool in still_open if spool.standing == "at risk"),
        late=tuple(spool.mark for spool in still_open if spool.standing == "late"),
    )
