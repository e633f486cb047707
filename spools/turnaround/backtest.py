"""Whether the forecast's dates held: each past Monday's date, made from what was known then, against what came."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time

from spools.turnaround.forecast import FEWEST_DAYS, Simulation, WorkLeft, coming_days, sure_dates, usable
from spools.turnaround.past import PastDay
from spools.turnaround.shifts import Calendar
from spools.turnaround.survival import percentile

MONDAYS = 12
RUNS = 2_000


@dataclass(frozen=True, slots=True)
class BackTestCase:
    """On that week's first morning: a week's worth of spools, the day it was said to be done by, the day it was."""

    monday: date
    spools: int
    said: date | None
    came: date | None
    held: bool | None


@dataclass(frozen=True, slots=True)
class BackTest:
    """The cases of the last weeks; a case that can't be judged yet is counted apart."""

    percent: int
    cases: tuple[BackTestCase, ...]

    @property
    def judged(self) -> int:
        """How many cases are known by now."""
        return sum(case.held is not None for case in self.cases)

    @property
    def held(self) -> int:
        """How many of those were done by the day that was said."""
        return sum(case.held is True for case in self.cases)

    def say(self) -> str:
        """Return the result in one line."""
        if not self.judged:
            return "no past Monday can be judged yet"
        open_words = f", {len(self.cases) - self.judged} still open" if self.judged < len(self.cases) else ""
        return (
            f"on the last {self.judged} Mondays the {self.percent} % date held {self.held} of {self.judged}{open_words}"
        )


def backtest(history: Sequence[PastDay], *, tie_ins: int, calendar: Calendar, seed: int, percent: int = 85) -> BackTest:
    """Return how the date held on the first morning of each of the last 12 weeks.

    ``history`` is every whole working day since the job's first reading (``past.past_days``), ``tie_ins`` the job's
    whole count. The stretch foretold is a week's worth: five times the median day then known, so that it is fixed by
    what was known and not by what came.
    """
    starts = [index for index in range(FEWEST_DAYS, len(history)) if _opens_week(history, index)]
    cases = [_case(history, index, tie_ins, calendar, seed, percent) for index in starts[-MONDAYS:]]
    return BackTest(percent, tuple(case for case in cases if case is not None))


def _opens_week(history: Sequence[PastDay], index: int) -> bool:
    return history[index].day.isocalendar()[:2] != history[index - 1].day.isocalendar()[:2]


def _case(
    history: Sequence[PastDay], index: int, tie_ins: int, calendar: Calendar, seed: int, percent: int
) -> BackTestCase | None:
    known, monday = history[:index], history[index].day
    measured, accepted = sum(day.measured for day in known), sum(day.accepted for day in known)
    usual = percentile([day.accepted for day in usable(known)], 50) or 0
    spools = min(5 * int(usual), tie_ins - accepted)
    if spools < 1:
        return None
    work = WorkLeft(not_measured=tie_ins - measured, in_shop=measured - accepted)
    simulated = Simulation(work, usable(known), seed=seed + monday.toordinal(), runs=RUNS)
    simulated.run(coming_days(calendar, at=calendar.moment(monday, time(0))), target=spools)
    said = sure_dates(simulated.reached, (percent,))[0].day
    came = _came(history[index:], spools)
    return BackTestCase(monday, spools, said, came, _held(said, came, last=history[-1].day))


def _came(after: Sequence[PastDay], spools: int) -> date | None:
    done = 0
    for day in after:
        done += day.accepted
        if done >= spools:
            return day.day
    return None


def _held(said: date | None, came: date | None, *, last: date) -> bool | None:
    if said is None:
        return None
    if came is None:
        return False if last >= said else None
    return came <= said
