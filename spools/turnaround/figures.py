"""The figures that are promised on: on time by due week, shop clock with open work in it, late by cause."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from spools.turnaround.clocks import late_hours, shop_hours
from spools.turnaround.facts import SpoolFacts
from spools.turnaround.shares import Share
from spools.turnaround.snapshot import Snapshot, is_due, is_late, is_on_time
from spools.turnaround.survival import Duration, OpenCurve, kaplan_meier

NO_CAUSE = "no cause given"


@dataclass(frozen=True, slots=True)
class DueWeek:
    """The spools that came due in the week from that Monday, and how many of them were on time."""

    monday: date
    share: Share
    missed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OnTime:
    """On time by due date: of all spools whose due time has passed, those accepted by then.

    Open late ones count as misses; those not yet due are left out. ``finished_only`` is the flattering figure that
    forgets the open late ones; it is kept to show the trap, never as the answer.
    """

    share: Share
    by_week: tuple[DueWeek, ...]
    finished_only: Share
    open_late: tuple[str, ...]
    not_yet_due: int


def on_time(shop: Snapshot) -> OnTime:
    """Return the share on time, whole and by week in which the spools were due."""
    due = [spool for spool in shop.spools if is_due(spool, shop.at)]
    weeks: dict[date, list[SpoolFacts]] = defaultdict(list)
    for spool in due:
        if spool.due_at is not None:
            weeks[shop.week_of(spool.due_at)].append(spool)
    finished = [spool for spool in due if spool.accepted_at is not None]
    return OnTime(
        share=_share(due, is_on_time),
        by_week=tuple(_due_week(monday, spools) for monday, spools in sorted(weeks.items())),
        finished_only=_share(finished, is_on_time),
        open_late=tuple(spool.mark for spool in due if spool.accepted_at is None),
        not_yet_due=sum(spool.due_at is not None for spool in shop.spools) - len(due),
    )


def _due_week(monday: date, spools: list[SpoolFacts]) -> DueWeek:
    missed = tuple(spool.mark for spool in spools if not is_on_time(spool))
    return DueWeek(monday, _share(spools, is_on_time), missed)


def _share(spools: list[SpoolFacts], test: Callable[[SpoolFacts], bool]) -> Share:
    return Share(sum(map(test, spools)), len(spools))


@dataclass(frozen=True, slots=True)
class ShopClock:
    """The shop clock of some spools in working hours: finished ones, open ones, and the curve of both.

    ``within_one_day`` counts the spools accepted within one working day of the clock, of all whose answer is known:
    accepted ones, and open ones already older than that.
    """

    finished_h: tuple[float, ...]
    open_h: tuple[float, ...]
    curve: OpenCurve
    day_h: float
    within_one_day: Share

    @property
    def p50(self) -> float | None:
        """Hours within which half of the spools are accepted."""
        return self.curve.percentile(50)

    @property
    def p85(self) -> float | None:
        """Hours within which 85 of 100 spools are accepted."""
        return self.curve.percentile(85)

    @property
    def p90(self) -> float | None:
        """Hours within which 90 of 100 spools are accepted."""
        return self.curve.percentile(90)

    @property
    def p95(self) -> float | None:
        """Hours within which 95 of 100 spools are accepted."""
        return self.curve.percentile(95)


def shop_clock(shop: Snapshot) -> ShopClock:
    """Return how the shop clocks of all started spools lie."""
    return _shop_clock(shop, shop.spools)


@dataclass(frozen=True, slots=True)
class ClockWeek:
    """The shop clock of the spools whose clock started in the week from that Monday."""

    monday: date
    clock: ShopClock


def shop_clock_by_week(shop: Snapshot) -> tuple[ClockWeek, ...]:
    """Return the shop clock by week of its start, so that a bad week is not diluted by when it was cleared."""
    weeks: dict[date, list[SpoolFacts]] = defaultdict(list)
    for spool in shop.spools:
        if spool.clock_start_at is not None:
            weeks[shop.week_of(spool.clock_start_at)].append(spool)
    return tuple(ClockWeek(monday, _shop_clock(shop, spools)) for monday, spools in sorted(weeks.items()))


def _shop_clock(shop: Snapshot, spools: Iterable[SpoolFacts]) -> ShopClock:
    elapsed = [shop_hours(spool, calendar=shop.calendar, at=shop.at) for spool in spools]
    finished = tuple(one.amount for one in elapsed if one is not None and not one.running)
    still_open = tuple(one.amount for one in elapsed if one is not None and one.running)
    day_h = shop.calendar.usual_day_hours()
    older = sum(hours > day_h for hours in still_open)
    durations = [Duration(hours, finished=True) for hours in finished]
    durations += [Duration(hours, finished=False) for hours in still_open]
    return ShopClock(
        finished_h=finished,
        open_h=still_open,
        curve=kaplan_meier(durations),
        day_h=day_h,
        within_one_day=Share(sum(hours <= day_h for hours in finished), len(finished) + older),
    )


@dataclass(frozen=True, slots=True)
class LateCause:
    """The late spools of one cause: which, and by how many working hours in sum."""

    cause: str
    marks: tuple[str, ...]
    late_h: float


def late_by_cause(shop: Snapshot) -> tuple[LateCause, ...]:
    """Return the late spools by cause, the costliest first; those still open are late by as much as they are now."""
    marks: dict[str, list[str]] = defaultdict(list)
    hours: Counter[str] = Counter()
    for spool in shop.spools:
        if is_late(spool, shop.at):
            cause = spool.cause or NO_CAUSE
            marks[cause].append(spool.mark)
            hours[cause] += late_hours(spool, calendar=shop.calendar, at=shop.at)  # type: ignore[assignment]
    causes = (LateCause(cause, tuple(names), hours[cause]) for cause, names in marks.items())
    return tuple(sorted(causes, key=lambda late: (-late.late_h, late.cause)))
