"""First time right by week, and how often each jig's readings had to be taken again."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from spools.turnaround.shares import Share
from spools.turnaround.snapshot import Snapshot


@dataclass(frozen=True, slots=True)
class RightWeek:
    """Of the spools accepted in the week from that Monday, those that never had a defect."""

    monday: date
    share: Share


def first_time_right(shop: Snapshot) -> tuple[RightWeek, ...]:
    """Return by week of acceptance the share of spools without any defect, scrapped builds counted as one."""
    weeks: dict[date, list[bool]] = defaultdict(list)
    for spool in shop.spools:
        if spool.accepted_at is not None:
            weeks[shop.week_of(spool.accepted_at)].append(spool.defects == 0)
    return tuple(RightWeek(monday, Share(sum(right), len(right))) for monday, right in sorted(weeks.items()))


@dataclass(frozen=True, slots=True)
class JigRemeasured:
    """Of the tie-ins read with that jig, those that had to be read again."""

    jig: str
    share: Share


def remeasured_by_jig(shop: Snapshot) -> tuple[JigRemeasured, ...]:
    """Return for each jig the share of its tie-ins that were read again."""
    jigs: dict[str, list[bool]] = defaultdict(list)
    for spool in shop.spools:
        if spool.jig:
            jigs[spool.jig].append(spool.remeasured)
    return tuple(JigRemeasured(jig, Share(sum(again), len(again))) for jig, again in sorted(jigs.items()))
