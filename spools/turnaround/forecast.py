"""When the job will be finished: past whole days drawn again and again, with the seed printed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from random import Random
from typing import TYPE_CHECKING

from spools.turnaround.past import PastDay
from spools.turnaround.shifts import ONE_DAY, Calendar
from spools.turnaround.survival import Duration, kaplan_meier

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Counts = NDArray[np.int64]

DAYS_BACK = 15
FEWEST_DAYS = 8
RUNS = 10_000
PERCENTS = (50, 85, 95)
HORIZON_DAYS = 750  # working days; what is not finished by then has no date


class ForecastError(ValueError):
    """No honest date can be given; the message says what is missing."""


@dataclass(frozen=True, slots=True)
class WorkLeft:
    """Tie-ins not yet measured, spools measured and not accepted, and the trips of accepted ones (``past.trips``)."""

    not_measured: int
    in_shop: int
    trips: tuple[Duration, ...] = ()


@dataclass(frozen=True, slots=True)
class SureDate:
    """The day by which it is done in that percent of the runs; no day if that lies beyond the horizon."""

    percent: int
    day: date | None


@dataclass(frozen=True, slots=True)
class FanDay:
    """At the end of that day at most so many are left to accept, in 50, 85 and 95 percent of the runs."""

    day: date
    left: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Forecast:
    """Dates for all accepted and for all delivered, with what they were made from.

    ``waiting_for_field_part`` is the part of the shop's simulated days on which it ran out of measured tie-ins.
    ``delivered`` is empty while no trip has ever come back.
    """

    accepted: tuple[SureDate, ...]
    delivered: tuple[SureDate, ...]
    fan: tuple[FanDay, ...]
    waiting_for_field_part: float
    history: tuple[PastDay, ...]
    seed: int
    runs: int

    def say_basis(self) -> str:
        """Return what the dates rest on, to print under them."""
        first, last = self.history[0].day, self.history[-1].day
        return (
            f"{self.runs:,} runs drawn from {len(self.history)} working days, {first.isoformat()} to "
            f"{last.isoformat()}; seed {self.seed}"
        )


def forecast(
    work: WorkLeft, *, history: Sequence[PastDay], at: datetime, calendar: Calendar, seed: int, runs: int = RUNS
) -> Forecast:
    """Return when the work left will be accepted and delivered.

    Each run draws whole past days (measured and accepted together) for the coming working days. The shop can't accept
    what is not measured; what is measured on a day can be accepted from the next one on. Each day's accepted spools go
    on one trip, drawn from past trips, with trips still out counted as "at least so long".
    """
    recent = usable(history)
    _check(work, recent)
    simulated = Simulation(work, recent, seed=seed, runs=runs)
    days = coming_days(calendar, at=at)
    simulated.run(days, target=work.not_measured + work.in_shop)
    return Forecast(
        accepted=sure_dates(simulated.reached),
        delivered=sure_dates(simulated.delivered) if simulated.delivered is not None else (),
        fan=tuple(simulated.fan),
        waiting_for_field_part=simulated.waited_days / max(simulated.shop_days, 1),
        history=recent,
        seed=seed,
        runs=runs,
    )


def usable(history: Sequence[PastDay]) -> tuple[PastDay, ...]:
    """Return the last 15 working days, or as many as there are, but never fewer than 8."""
    recent = tuple(history)[-DAYS_BACK:]
    if len(recent) < FEWEST_DAYS:
        raise ForecastError(
            f"A date needs {FEWEST_DAYS} whole working days of history; there are {len(recent)}. "
            f"Look again in {FEWEST_DAYS - len(recent)} working days."
        )
    return recent


def _check(work: WorkLeft, recent: Sequence[PastDay]) -> None:
    if work.not_measured + work.in_shop and not any(day.accepted for day in recent):
        raise ForecastError(f"No spool was accepted in the last {len(recent)} working days, so no date can be given.")
    if work.not_measured and not any(day.measured for day in recent):
        raise ForecastError(
            f"{work.not_measured} tie-ins are not measured and none was in the last {len(recent)} working days: "
            "no date can be given until measuring goes on."
        )


def coming_days(calendar: Calendar, *, at: datetime) -> Iterable[date]:
    """Yield the working days to come; today counts only before its first shift has started."""
    day = calendar.local(at).date()
    if calendar.is_working_day(day) and calendar.first_start(day) < at:
        day += ONE_DAY
    for _ in range(HORIZON_DAYS):
        day = calendar.working_day_from(day)
        yield day
        day += ONE_DAY


def sure_dates(ordinals: "Counts", percents: Sequence[int] = PERCENTS) -> tuple[SureDate, ...]:
    """Return the earliest day by which each percent of the runs is done (0 stands for a run that never was)."""
    done = sorted(int(ordinal) for ordinal in ordinals if ordinal)
    sure = []
    for percent in percents:
        rank = -(-percent * len(ordinals) // 100)
        sure.append(SureDate(percent, date.fromordinal(done[rank - 1]) if rank <= len(done) else None))
    return tuple(sure)


class Simulation:
    """All runs side by side, one array entry a run, stepped day by day."""

    def __init__(self, work: WorkLeft, history: Sequence[PastDay], *, seed: int, runs: int) -> None:
        import numpy  # noqa: PLC0415 - a page without a forecast must not pay for it

        self._np = numpy
        self._draw = Random(seed)  # noqa: S311 - a printed seed must give the same dates again
        self._measured = numpy.array([day.measured for day in history])
        self._accepted = numpy.array([day.accepted for day in history])
        self._field = numpy.full(runs, work.not_measured)
        self._shop = numpy.full(runs, work.in_shop)
        self._done = numpy.zeros(runs, dtype=int)
        self._trips = trip_odds(work.trips)
        self._open_trips = [int(trip.amount) for trip in work.trips if not trip.finished]
        self.reached: Counts = numpy.zeros(runs, dtype=int)
        self.delivered: Counts | None = numpy.zeros(runs, dtype=int) if self._trips else None
        self.fan: list[FanDay] = []
        self.waited_days = self.shop_days = 0

    def run(self, days: Iterable[date], *, target: int) -> None:
        """Step through the days until every run has accepted ``target`` spools."""
        today: date | None = None
        for day in days:
            if today is None:
                today = day - ONE_DAY
                self._start(today, target)
            going = self._np.flatnonzero(self._done < target)
            if not going.size:
                break
            self._step(day, going, target)
        if self.delivered is not None:
            self.delivered[self._done < target] = 0

    def _start(self, today: date, target: int) -> None:
        if target == 0:
            self.reached[:] = today.toordinal()
        if self.delivered is None:
            return
        self.delivered[:] = today.toordinal()
        for age in self._open_trips:
            longer = [(days, odds) for days, odds in self._trips if days > age] or [(age + 1, 1.0)]
            drawn = self._drawn_trips(longer, count=len(self.reached))
            self._np.maximum(self.delivered, today.toordinal() + drawn - age, out=self.delivered)

    def _step(self, day: date, going: "Counts", target: int) -> None:
        np = self._np
        drawn = (self._uniform(going.size) * len(self._measured)).astype(int)
        able, stock = self._accepted[drawn], self._shop[going]
        accepted = np.minimum(able, stock)
        measured = np.minimum(self._measured[drawn], self._field[going])
        self.waited_days += int(np.count_nonzero((able > stock) & (self._field[going] > 0)))
        self.shop_days += going.size
        self._shop[going] = stock - accepted + measured
        self._field[going] -= measured
        self._done[going] += accepted
        self.reached[going[self._done[going] >= target]] = day.toordinal()
        self._send(day, going[accepted > 0])
        self._note_fan(day, target)

    def _send(self, day: date, runs: "Counts") -> None:
        if self.delivered is None or not runs.size:
            return
        drawn = self._drawn_trips(self._trips, count=runs.size)
        self.delivered[runs] = self._np.maximum(self.delivered[runs], day.toordinal() + drawn)

    def _note_fan(self, day: date, target: int) -> None:
        ranks = [-(-percent * self._done.size // 100) - 1 for percent in PERCENTS]
        left = self._np.partition(self._np.maximum(target - self._done, 0), ranks)
        self.fan.append(FanDay(day, tuple(int(left[rank]) for rank in ranks)))

    def _uniform(self, count: int) -> "NDArray[np.float64]":
        """Return numbers in [0, 1) from the seeded generator of the standard library, which never changes."""
        raw = self._np.frombuffer(self._draw.randbytes(4 * count), dtype="<u4")
        return raw / 2.0**32

    def _drawn_trips(self, odds: Sequence[tuple[int, float]], *, count: int) -> "Counts":
        days: Counts = self._np.array([days for days, _ in odds])
        edges = self._np.cumsum([part for _, part in odds])
        chosen = self._np.searchsorted(edges[:-1], self._uniform(count) * edges[-1], side="right")
        drawn: Counts = self._np.take(days, chosen)
        return drawn


def trip_odds(trips: Sequence[Duration]) -> list[tuple[int, float]]:
    """Return the days of past trips with the odds of each; what is still out weighs on the longer ones.

    >>> trip_odds([Duration(3, True), Duration(4, False), Duration(7, True), Duration(7, True)])
    [(3, 0.25), (7, 0.75)]
    """
    curve = kaplan_meier(trips)
    if not curve.steps:
        return []
    before, odds = 1.0, []
    for step in curve.steps:
        odds.append((int(step.amount), before - step.open_part))
        before = step.open_part
    if before > 0:  # nobody knows how long the longest will be out: at least as long as any so far
        odds.append((int(max(trip.amount for trip in trips)), before))
    return odds
