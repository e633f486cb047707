"""The lists behind the figures of the promise: which spools each of them counts."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache

from spools.models import Person
from spools.queries.bench_stops import Lost, lost_since
from spools.queries.promise import Counted
from spools.turnaround.aging import remaining_work, standing
from spools.turnaround.facts import SpoolFacts
from spools.turnaround.figures import NO_CAUSE
from spools.turnaround.snapshot import Snapshot, is_due, is_late, is_on_time

Test = Callable[[SpoolFacts], bool]

LISTS = {
    "due": "Due by now",
    "on_time": "Accepted in their day",
    "missed": "Missed their day",
    "open_late": "Open and late",
    "not_due": "Open, not due yet",
    "today": "Due today",
    "today_done": "Due today and accepted",
    "at_risk": "At risk",
    "accepted": "Accepted",
    "open": "Open work, oldest first",
    "measured": "Measured",
    "in_shop": "In the shop",
    "ready": "Ready for coating",
    "at_coating": "At coating",
    "yard": "Back in the yard",
    "delivered": "Delivered",
    "defects": "Accepted after a defect",
    "remeasured": "Measured again",
}


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What a list is narrowed to: the week they were due in or accepted in, the day of acceptance, a cause, a jig."""

    due_week: date | None = None
    accepted_week: date | None = None
    accepted_on: date | None = None
    cause: str = ""
    jig: str = ""

    def say(self) -> str:
        """Return it in words, to stand behind the list's name."""
        parts = (
            f"due in the week from {self.due_week:%a %-d %b}" if self.due_week else "",
            f"accepted in the week from {self.accepted_week:%a %-d %b}" if self.accepted_week else "",
            f"accepted on {self.accepted_on:%a %-d %b}" if self.accepted_on else "",
            f"cause: {self.cause}" if self.cause else "",
            f"jig {self.jig}" if self.jig else "",
        )
        return ", ".join(part for part in parts if part)

    def lets(self, spool: SpoolFacts, shop: Snapshot) -> bool:
        """Tell whether a spool is in what the list is narrowed to."""
        due, accepted = spool.due_at, spool.accepted_at
        return (
            (self.due_week is None or (due is not None and shop.week_of(due) == self.due_week))
            and (self.accepted_week is None or (accepted is not None and shop.week_of(accepted) == self.accepted_week))
            and (self.accepted_on is None or (accepted is not None and shop.day_of(accepted) == self.accepted_on))
            and (not self.cause or (spool.cause or NO_CAUSE) == self.cause)
            and (not self.jig or spool.jig == self.jig)
        )


def behind(counted: Counted, which: str, narrowed: Narrowed) -> list[SpoolFacts]:
    """Return the spools that a figure counts, the earliest due first."""
    shop = counted.snapshot
    test = _tests(shop)[which]
    found = [spool for spool in shop.spools if test(spool) and narrowed.lets(spool, shop)]
    return sorted(found, key=lambda spool: (spool.due_at or shop.at, spool.mark))


def stopped_then(
    person: Person, counted: Counted, narrowed: Narrowed, rows: list[SpoolFacts]
) -> tuple[Lost, ...] | None:
    """Return the bench stops that fell on the spools of one week or day (one query); nothing for another list."""
    shop = counted.snapshot
    monday, day = narrowed.due_week or narrowed.accepted_week, narrowed.accepted_on
    first_day = monday or day
    if first_day is None:
        return None
    last_day = first_day + timedelta(days=7 if monday else 1)
    since = min([spool.clock_start_at or spool.received_at for spool in rows] + [_midnight(shop, first_day)])
    until = min(shop.at, _midnight(shop, last_day))
    return tuple(lost_since(person, since=since, until=until, at=shop.at, calendar=shop.calendar))


def _midnight(shop: Snapshot, day: date) -> datetime:
    return shop.calendar.moment(day, time(0))


def _tests(shop: Snapshot) -> dict[str, Test]:
    at, today = shop.at, shop.day_of(shop.at)
    needed = cache(lambda: remaining_work(shop))  # one list alone asks for it

    def due_today(spool: SpoolFacts) -> bool:
        return spool.due_at is not None and shop.day_of(spool.due_at) == today

    def is_open(spool: SpoolFacts) -> bool:
        return spool.accepted_at is None and spool.delivered_at is None

    def at_risk(spool: SpoolFacts) -> bool:
        return is_open(spool) and standing(spool, calendar=shop.calendar, at=at, needed=needed()) == "at risk"

    return {
        "due": lambda s: is_due(s, at),
        "on_time": lambda s: is_due(s, at) and is_on_time(s),
        "missed": lambda s: is_late(s, at),
        "open_late": lambda s: s.accepted_at is None and is_late(s, at),
        "not_due": lambda s: s.due_at is not None and not is_due(s, at),
        "today": due_today,
        "today_done": lambda s: due_today(s) and s.accepted_at is not None,
        "at_risk": at_risk,
        "accepted": lambda s: s.accepted_at is not None,
        "open": is_open,
        "measured": lambda _: True,
        **_places(),
        "defects": lambda s: s.accepted_at is not None and s.defects > 0,
        "remeasured": lambda s: s.remeasured,
    }


def _places() -> dict[str, Test]:
    return {
        "in_shop": lambda s: s.accepted_at is None,
        "ready": lambda s: (
            s.accepted_at is not None
            and s.coating_out_at is None
            and s.coating_back_at is None
            and s.delivered_at is None
        ),
        "at_coating": lambda s: s.coating_out_at is not None and s.coating_back_at is None and s.delivered_at is None,
        "yard": lambda s: s.coating_back_at is not None and s.delivered_at is None,
        "delivered": lambda s: s.delivered_at is not None,
    }
