"""The shop's calendar: which hours are staffed, and how many of them lie between two moments."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

ONE_DAY = timedelta(days=1)
NOTHING = timedelta(0)
LOOK_AHEAD_DAYS = 800  # past this many days without a shift the calendar itself is wrong

Span = tuple[datetime, datetime]


class CalendarError(ValueError):
    """The calendar can't answer; the message says what to change."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A staffed stretch by the clock on the wall; an end at or before the start is on the next day."""

    start: time
    end: time


@dataclass(frozen=True, slots=True)
class WorkedDay:
    """A day with its own shifts in place of the week's: an overtime Saturday, a short Christmas Eve."""

    day: date
    shifts: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Calendar:
    """Shifts by weekday (Monday first) in local time, less the closed days, plus the worked days.

    All sums are made in UTC, so a night shift is 7 h long when the clocks go forward and 9 h when they go back.
    A worked day wins over a closed day, a closed day over the week.

    >>> day = (Shift(time(6), time(14, 30)),)
    >>> shop = Calendar("America/Chicago", weekly=(day,) * 5 + ((), ()))
    >>> friday_noon = datetime(2026, 11, 20, 18, 0, tzinfo=UTC)
    >>> shop.working_seconds(friday_noon, friday_noon + timedelta(days=3)) / 3600
    8.5
    """

    zone: str
    weekly: tuple[tuple[Shift, ...], ...]
    closed: frozenset[date] = frozenset()
    worked: tuple[WorkedDay, ...] = ()
    _own: dict[date, tuple[Shift, ...]] = field(init=False, repr=False, compare=False)
    _tz: ZoneInfo = field(init=False, repr=False, compare=False)
    _memo: dict[date, tuple[Span, ...]] = field(init=False, repr=False, compare=False)
    _sums: dict[Span, float] = field(init=False, repr=False, compare=False)  # one clock is asked for by many figures

    def __post_init__(self) -> None:
        if len(self.weekly) != 7:
            raise CalendarError(f"A week has 7 days, Monday first; {len(self.weekly)} were given.")
        try:
            zone = ZoneInfo(self.zone)
        except (ZoneInfoNotFoundError, ValueError, OSError) as unknown:
            raise CalendarError(
                f"Unknown time zone {self.zone!r}: write it like 'America/New_York' or 'UTC'."
            ) from unknown
        object.__setattr__(self, "_tz", zone)
        object.__setattr__(self, "_own", {worked.day: worked.shifts for worked in self.worked})
        object.__setattr__(self, "_memo", {})
        object.__setattr__(self, "_sums", {})

    def local(self, at: datetime) -> datetime:
        """Return the moment by the shop's clock on the wall."""
        if at.tzinfo is None:
            raise CalendarError(f"{at.isoformat()} has no time zone: give the moment with one, such as UTC.")
        return at.astimezone(self._tz)

    def moment(self, day: date, clock: time) -> datetime:
        """Return the UTC moment at which the wall clock shows ``clock`` on ``day`` (the first, if it does twice)."""
        return datetime.combine(day, clock, tzinfo=self._tz).astimezone(UTC)

    def shifts_on(self, day: date) -> tuple[Shift, ...]:
        """Return the shifts that start on that day."""
        own = self._own.get(day)
        if own is not None:
            return own
        return () if day in self.closed else self.weekly[day.weekday()]

    def is_working_day(self, day: date) -> bool:
        """Tell whether a shift starts on that day."""
        return bool(self.shifts_on(day))

    def working_day_from(self, day: date) -> date:
        """Return that day if it is worked, else the next one that is."""
        for ahead in range(LOOK_AHEAD_DAYS):
            if self.is_working_day(day + ahead * ONE_DAY):
                return day + ahead * ONE_DAY
        raise self._no_shift(day)

    def next_working_day(self, day: date) -> date:
        """Return the first worked day after that day."""
        return self.working_day_from(day + ONE_DAY)

    def working_days(self, first: date, last: date) -> tuple[date, ...]:
        """Return the worked days from ``first`` to ``last``, both included."""
        days = (first + ahead * ONE_DAY for ahead in range((last - first).days + 1))
        return tuple(day for day in days if self.is_working_day(day))

    def first_start(self, day: date) -> datetime:
        """Return when the first shift of a worked day starts."""
        return min(self.moment(day, shift.start) for shift in self._shifts_of_worked(day))

    def last_end(self, day: date) -> datetime:
        """Return when the last shift of a worked day ends, on the next day for a night shift."""
        return max(self._span(day, shift)[1] for shift in self._shifts_of_worked(day))

    def is_staffed(self, at: datetime) -> bool:
        """Tell whether somebody works at that moment (a shift's end is no longer in it)."""
        return any(start <= at < end for start, end in self._staffed_on(self.local(at).date()))

    def next_shift_start(self, at: datetime) -> datetime:
        """Return the first start of a shift at or after that moment, in UTC."""
        day = self.local(at).date()
        for ahead in range(LOOK_AHEAD_DAYS):
            today = day + ahead * ONE_DAY
            starts = [self.moment(today, shift.start) for shift in self.shifts_on(today)]
            later = [start for start in starts if start >= at]
            if later:
                return min(later)
        raise self._no_shift(day)

    def next_staffed(self, at: datetime) -> datetime:
        """Return that moment if somebody works then, else the next one when somebody does."""
        return at if self.is_staffed(at) else self.next_shift_start(at)

    def working_seconds(self, start: datetime, end: datetime) -> float:
        """Return the staffed seconds between two moments, zero when the end is not after the start."""
        known = self._sums.get((start, end))
        if known is None:
            spans = self._staffed_between(start, end)
            total = sum((until - since for since, until in spans), NOTHING)
            known = self._sums[start, end] = total.total_seconds()
        return known

    def working_hours(self, start: datetime, end: datetime) -> float:
        """Return the staffed hours between two moments, zero when the end is not after the start."""
        return self.working_seconds(start, end) / 3600

    def add_working(self, at: datetime, seconds: float) -> datetime:
        """Return the earliest moment by which that many staffed seconds have passed since ``at``, in UTC."""
        if seconds < 0:
            raise CalendarError("Working time to add can't be negative: swap the two moments instead.")
        left = timedelta(seconds=seconds)
        if left == NOTHING:
            return at.astimezone(UTC)
        day = self.local(at).date()
        idle = 0
        while idle < LOOK_AHEAD_DAYS:
            spans = self._staffed_on(day)
            idle = 0 if spans else idle + 1
            for start, end in spans:
                since = max(start, at)
                if end - since >= left:
                    return since + left
                left -= max(end - since, NOTHING)
            day += ONE_DAY
        raise self._no_shift(day)

    def usual_day_hours(self) -> float:
        """Return the staffed hours of the longest day of the week: what the shop calls one working day."""
        return max((sum(map(_nominal_hours, shifts)) for shifts in self.weekly), default=0.0)

    def _staffed_between(self, start: datetime, end: datetime) -> Iterator[Span]:
        first, last = self.local(start).date(), self.local(end).date()
        for ahead in range((last - first).days + 1):
            for since, until in self._staffed_on(first + ahead * ONE_DAY):
                if max(since, start) < min(until, end):
                    yield max(since, start), min(until, end)

    def _staffed_on(self, day: date) -> tuple[Span, ...]:
        """Return the staffed spans of one local day, midnight to midnight, in order and without overlaps."""
        known = self._memo.get(day)
        if known is None:
            midnight, next_midnight = self.moment(day, time(0)), self.moment(day + ONE_DAY, time(0))
            spans = [self._span(when, shift) for when in (day - ONE_DAY, day) for shift in self.shifts_on(when)]
            clipped = [(max(start, midnight), min(end, next_midnight)) for start, end in spans]
            known = self._memo[day] = _union(clipped)
        return known

    def _span(self, day: date, shift: Shift) -> Span:
        end_day = day if shift.end > shift.start else day + ONE_DAY
        return self.moment(day, shift.start), self.moment(end_day, shift.end)

    def _shifts_of_worked(self, day: date) -> tuple[Shift, ...]:
        shifts = self.shifts_on(day)
        if not shifts:
            raise CalendarError(f"No shift starts on {day.isoformat()}: ask for a worked day.")
        return shifts

    def _no_shift(self, day: date) -> CalendarError:
        return CalendarError(
            f"The shop calendar has no shift in the {LOOK_AHEAD_DAYS} days from {day.isoformat()}: "
            "enter the week's shifts or take out closed days."
        )


def _nominal_hours(shift: Shift) -> float:
    start, end = (clock.hour + clock.minute / 60 + clock.second / 3600 for clock in (shift.start, shift.end))
    return end - start if end > start else end - start + 24


def _union(spans: list[Span]) -> tuple[Span, ...]:
    merged: list[Span] = []
    for start, end in sorted(spans):
        if end <= start:
            continue
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)
