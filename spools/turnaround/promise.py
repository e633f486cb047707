"""The one-day promise: from the moment a reading is received to the moment its spool is due."""

from dataclasses import dataclass
from datetime import UTC, datetime, time

from spools.turnaround.shifts import ONE_DAY, Calendar


@dataclass(frozen=True, slots=True)
class PromiseRule:
    """The shop's own promise: what comes in by the cut-off is due at the same clock time on the next working day."""

    cut_off: time = time(14)


def counts_from(received_at: datetime, *, calendar: Calendar, rule: PromiseRule | None = None) -> datetime:
    """Return the moment from which the promise counts.

    That is the receipt itself during a working day up to the cut-off; otherwise the next start of a shift:
    of the same day when it came before the shift or in a break, of the next working day when it came after the cut-off.
    A reading that comes later never counts from an earlier moment.
    """
    cut_off = (rule or PromiseRule()).cut_off
    today = calendar.local(received_at).date()
    if received_at > calendar.moment(today, cut_off):
        today += ONE_DAY
    first_start = calendar.first_start(calendar.working_day_from(today))
    return calendar.next_staffed(max(received_at, first_start)).astimezone(UTC)


def due_at(received_at: datetime, *, calendar: Calendar, rule: PromiseRule | None = None) -> datetime:
    """Return when the spool is due, in UTC: same clock time next working day, not later than its last shift's end.

    >>> from spools.turnaround.shifts import Shift
    >>> day = (Shift(time(6), time(14, 30)),)
    >>> shop = Calendar("America/New_York", weekly=(day,) * 5 + ((), ()))
    >>> friday = datetime(2026, 11, 20, 15, 0, tzinfo=UTC)  # 10:00 in the shop
    >>> shop.local(due_at(friday, calendar=shop)).strftime("%a %H:%M")
    'Mon 10:00'
    """
    start = calendar.local(counts_from(received_at, calendar=calendar, rule=rule))
    due_day = calendar.next_working_day(start.date())
    return min(calendar.moment(due_day, start.time()), calendar.last_end(due_day))
