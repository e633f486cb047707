"""Work in progress day by day: how many spools had reached each stage by the end of the day."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from spools.turnaround.facts import SpoolFacts
from spools.turnaround.shifts import ONE_DAY
from spools.turnaround.snapshot import Snapshot


@dataclass(frozen=True, slots=True)
class FlowDay:
    """At the end of that day: spools that had reached each stage or a later one, in the order of the stages."""

    day: date
    reached: tuple[int, ...]

    @property
    def in_stage(self) -> tuple[int, ...]:
        """How many spools had reached that stage and no later one; the last stage keeps all of its own."""
        later = (*self.reached[1:], 0)
        return tuple(here - after for here, after in zip(self.reached, later, strict=True))


def daily_flow(
    shop: Snapshot, *, stages: Sequence[str], first: date, last: date, before: int = 0
) -> tuple[FlowDay, ...]:
    """Return the cumulative flow on the working days from ``first`` to ``last``.

    The first stage is reached by receipt. A stage a spool never needed is reached together with the next one it did.
    Days after the snapshot are left out; the snapshot's own day is counted up to its moment. ``before`` spools were
    through every stage long before ``first`` and are not in the snapshot.
    """
    moments = [_reach_moments(spool, stages) for spool in shop.spools]
    by_stage = [
        sorted(reached for spool in moments if (reached := spool[stage]) is not None) for stage in range(len(stages))
    ]
    days = [day for day in shop.calendar.working_days(first, last) if day <= shop.day_of(shop.at)]
    flow = []
    for day in days:
        end = min(shop.calendar.moment(day + ONE_DAY, time(0)), shop.at.astimezone(UTC))
        flow.append(FlowDay(day, tuple(before + bisect_right(reached, end) for reached in by_stage)))
    return tuple(flow)


def _reach_moments(spool: SpoolFacts, stages: Sequence[str]) -> list[datetime | None]:
    done: list[datetime | None] = [spool.received_at]
    done += [min((step.done_at for step in spool.steps if step.step == stage), default=None) for stage in stages[1:]]
    earliest: datetime | None = None
    for stage in reversed(range(len(done))):
        stamps = [stamp for stamp in (earliest, done[stage]) if stamp is not None]
        earliest = done[stage] = min(stamps, default=None)
    return done
