"""The month's 23 days on the calendar, and shop time: minutes of staffed time since the first morning."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from cutlists.demo.scenario import DUE_BY_WEEK, HOLIDAY, ZONE

START, END = time(6), time(16, 30)
DAY_MINUTES = 630
ONE_DAY = timedelta(days=1)
MONDAY, WEDNESDAY, FRIDAY, SATURDAY = 0, 2, 4, 5

# The worked Saturdays, by the weekday on which the month ends, as (due week, day number): a month that ends before
# Friday makes its days up, so that the holiday and the broken groover keep their place in the weeks.
SATURDAYS: dict[int, tuple[int, ...]] = {WEDNESDAY: (1, 2), WEDNESDAY + 1: (1,), FRIDAY: ()}
# Spools due on each worked day of a due week.
DUE_IN_WEEK: tuple[dict[int, tuple[int, ...]], ...] = (
    {5: (5, 7, 8, 9, 9)},
    {4: (10, 14, 14, 14), 5: (8, 11, 11, 11, 11)},
    {5: (13, 13, 13, 13, 14), 6: (11, 11, 11, 11, 11, 11)},
    {5: (13, 13, 13, 13, 13), 4: (16, 16, 16, 17), 3: (21, 22, 22)},
)


@dataclass(frozen=True, slots=True)
class Month:
    """The story's days in order (day 1 first, the holiday among them), and the days closed after the last."""

    days: tuple[date, ...]
    saturdays: tuple[date, ...]
    closed: tuple[date, ...]

    @property
    def holiday(self) -> date:
        """The closed day of the story."""
        return self.days[HOLIDAY - 1]

    @property
    def worked(self) -> tuple[int, ...]:
        """The numbers of the worked days."""
        return tuple(number for number in range(1, len(self.days) + 1) if number != HOLIDAY)

    def tick(self, day: int, clock: str) -> float:
        """Return shop time at a clock time such as ``07:15`` of a worked day."""
        hour, minute = clock.split(":")
        return self.worked.index(day) * DAY_MINUTES + (int(hour) - START.hour) * 60 + int(minute)

    def day_of(self, tick: float) -> int:
        """Return the number of the worked day that a shop time falls on."""
        return self.worked[int(tick // DAY_MINUTES)]

    def moment(self, tick: float) -> datetime:
        """Return shop time as a moment in UTC, to the second."""
        day = self.days[self.day_of(tick) - 1]
        minutes = tick % DAY_MINUTES
        local = datetime.combine(day, START, tzinfo=ZoneInfo(ZONE)) + timedelta(seconds=round(minutes * 60))
        return local.astimezone(UTC)

    @property
    def end(self) -> datetime:
        """The end of the last day's shift."""
        return datetime.combine(self.days[-1], END, tzinfo=ZoneInfo(ZONE)).astimezone(UTC)

    def due_on(self) -> dict[int, tuple[int, int]]:
        """Return for each worked day with spools due its due week (0 to 3) and how many."""
        found: dict[int, tuple[int, int]] = {}
        for week in range(len(DUE_BY_WEEK)):
            numbers = [number for number in self.worked if self._week(number) == week]
            counts = DUE_IN_WEEK[week][len(numbers)]
            found |= {number: (week, count) for number, count in zip(numbers, counts, strict=True)}
        return found

    def next_worked(self) -> dict[int, int]:
        """Return for each worked day but the last the next one: what comes in by the cut-off is due then."""
        return dict(pairwise(self.worked))

    def _week(self, number: int) -> int:
        first_monday = self.days[3]
        return (self.days[number - 1] - first_monday).days // 7


def month_before(now: datetime) -> Month:
    """Return the month that ends with the last shift over before ``now``.

    A last due week of one or two days couldn't hold its spools: then those days are closed and Friday is the last.
    """
    local = now.astimezone(ZoneInfo(ZONE))
    last = local.date() if local.time() >= END else local.date() - ONE_DAY
    while last.weekday() >= SATURDAY:
        last -= ONE_DAY
    closed: tuple[date, ...] = ()
    if last.weekday() < WEDNESDAY:
        closed = tuple(last - ONE_DAY * back for back in reversed(range(last.weekday() + 1)))
        last -= ONE_DAY * (last.weekday() + SATURDAY - FRIDAY + 2)
    return _month_to(last, closed)


def _month_to(last: date, closed: tuple[date, ...]) -> Month:
    monday = last - ONE_DAY * last.weekday() - ONE_DAY * 7 * (len(DUE_BY_WEEK) - 1)
    days = [monday - ONE_DAY * back for back in (5, 4, 3)]
    saturdays = []
    for week in range(len(DUE_BY_WEEK)):
        first = monday + ONE_DAY * 7 * week
        length = 6 if week in SATURDAYS[last.weekday()] else 5
        days += [first + ONE_DAY * ahead for ahead in range(length) if first + ONE_DAY * ahead <= last]
        if length == 6:
            saturdays.append(days[-1])
    return Month(tuple(days), tuple(saturdays), closed)
