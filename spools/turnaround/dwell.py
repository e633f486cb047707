"""Where the hours go: for each step how long spools waited before it and how long it was worked on."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from spools.turnaround.facts import SpoolFacts, StepDone
from spools.turnaround.shifts import Calendar
from spools.turnaround.snapshot import Snapshot
from spools.turnaround.survival import Spread, spread

BURST_TAPS = 5  # more taps of one step by one person than this ...
BURST_WITHIN = timedelta(seconds=60)  # ... within this were entered later, not done then


@dataclass(frozen=True, slots=True)
class Dwell:
    """One spool's stay before and in one step, from the step before it was done until this one was.

    ``waiting_h`` runs until the first touch; where nobody told the first touch the whole stay is ``unsplit_h``.
    ``done_at`` is empty while the spool still is in that step. Hours are working hours of the calendar given.
    """

    mark: str
    step: str
    since: datetime
    done_at: datetime | None
    waiting_h: float | None
    working_h: float | None
    unsplit_h: float | None

    @property
    def hours(self) -> float:
        """The whole stay in working hours."""
        return (self.waiting_h or 0.0) + (self.working_h or 0.0) + (self.unsplit_h or 0.0)


def dwells(spool: SpoolFacts, *, calendar: Calendar) -> tuple[Dwell, ...]:
    """Return the finished stays of one spool, in order; a step done again after rework has a stay of its own.

    The live path and a rebuild from all events both call this, so they can't differ.
    """
    return tuple(_dwell(spool.mark, *stay, calendar=calendar) for stay in _stays(spool))


def _stays(spool: SpoolFacts) -> Iterator[tuple[StepDone, datetime, datetime]]:
    """Yield each step in order with the moments between which the spool stayed in it."""
    since = spool.clock_start_at or spool.received_at
    for step in sorted(spool.steps, key=lambda step: step.done_at):
        done_at = max(step.done_at, since)
        yield step, since, done_at
        since = done_at


def _dwell(mark: str, step: StepDone, since: datetime, done_at: datetime, *, calendar: Calendar) -> Dwell:
    if step.started_at is None:
        hours = calendar.working_hours(since, done_at)
        return Dwell(mark, step.step, since, done_at, waiting_h=None, working_h=None, unsplit_h=hours)
    touched = min(max(step.started_at, since), done_at)
    waiting, working = calendar.working_hours(since, touched), calendar.working_hours(touched, done_at)
    return Dwell(mark, step.step, since, done_at, waiting_h=waiting, working_h=working, unsplit_h=None)


def open_dwell(spool: SpoolFacts, *, calendar: Calendar, at: datetime) -> Dwell | None:
    """Return the stay that still lasts, all of it waiting, or nothing once the spool is delivered."""
    if spool.delivered_at is not None or not spool.next_step:
        return None
    since = max((step.done_at for step in spool.steps), default=spool.clock_start_at or spool.received_at)
    hours = calendar.working_hours(since, at)
    return Dwell(spool.mark, spool.next_step, since, None, waiting_h=hours, working_h=None, unsplit_h=None)


@dataclass(frozen=True, slots=True)
class StepDwell:
    """The stays of all spools in one step; ``left_out`` were entered later in a burst and tell no hours.

    ``waiting_now`` counts the spools in front of that step at the moment, ``waiting_now_h`` how long they have been.
    """

    step: str
    waiting: Spread
    working: Spread
    unsplit: Spread
    left_out: int
    waiting_now: int
    waiting_now_h: float

    @property
    def told(self) -> bool:
        """Whether the hours of any stay in this step are known, finished or lasting."""
        return bool(self.waiting.n or self.working.n or self.unsplit.n or self.waiting_now)

    @property
    def waiting_total_h(self) -> float:
        """All waiting before this step, finished and still lasting, with what can't be told from work."""
        return self.waiting.total + self.unsplit.total + self.waiting_now_h


def dwell_by_step(shop: Snapshot, *, steps: Sequence[str]) -> tuple[StepDwell, ...]:
    """Return the stays by step, in the order of ``steps``."""
    bursts = entered_later(shop.spools)
    finished: dict[str, list[Dwell]] = defaultdict(list)
    left_out: dict[str, int] = defaultdict(int)
    lasting: dict[str, list[float]] = defaultdict(list)
    for spool in shop.spools:
        for step, since, done_at in _stays(spool):
            if (spool.mark, step.step) in bursts:
                left_out[step.step] += 1
            else:
                finished[step.step].append(_dwell(spool.mark, step, since, done_at, calendar=shop.calendar))
        still = open_dwell(spool, calendar=shop.calendar, at=shop.at)
        if still is not None:
            lasting[still.step].append(still.hours)
    return tuple(
        StepDwell(
            step,
            waiting=spread([stay.waiting_h for stay in finished[step] if stay.waiting_h is not None]),
            working=spread([stay.working_h for stay in finished[step] if stay.working_h is not None]),
            unsplit=spread([stay.unsplit_h for stay in finished[step] if stay.unsplit_h is not None]),
            left_out=left_out[step],
            waiting_now=len(lasting[step]),
            waiting_now_h=sum(lasting[step]),
        )
        for step in steps
    )


def entered_later(spools: Sequence[SpoolFacts]) -> frozenset[tuple[str, str]]:
    """Return the (mark, step) of taps that came in a burst: more than 5 of one step by one person within 60 s."""
    taps: dict[tuple[str, str], list[tuple[datetime, str]]] = defaultdict(list)
    for spool in spools:
        for step in spool.steps:
            if step.entered_at is not None:
                taps[step.step, step.by].append((step.entered_at, spool.mark))
    found: set[tuple[str, str]] = set()
    for (word, _), entered in taps.items():
        entered.sort()
        for number in range(len(entered) - BURST_TAPS):
            burst = entered[number : number + BURST_TAPS + 1]
            if burst[-1][0] - burst[0][0] <= BURST_WITHIN:
                found.update((mark, word) for _, mark in burst)
    return frozenset(found)
