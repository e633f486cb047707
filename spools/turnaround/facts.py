"""What is known about one build of a tie-in: the stamps from which every clock and figure is made."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

INHERITED = ("taken_at", "received_at", "clock_start_at", "due_at")
STAMPS = ("clock_start_at", "accepted_at", "coating_out_at", "coating_back_at", "delivered_at", "scrapped_at")


@dataclass(frozen=True, slots=True)
class HoldSpan:
    """A stretch during which somebody held the spool; ``until`` is empty while it lasts."""

    since: datetime
    until: datetime | None
    reason: str
    owner: str
    customer: bool = False


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step that the whole spool has passed.

    ``started_at`` is the first touch of that step, if anybody told it; ``entered_at`` is when the tap arrived.
    """

    step: str
    done_at: datetime
    started_at: datetime | None = None
    entered_at: datetime | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class SpoolFacts:
    """One build of a tie-in; builds of one tie-in share ``tie_in`` and are folded by ``live_builds``.

    ``taken_at`` is the device's time of the reading, ``received_at`` the server's; ``clock_start_at`` is when it was
    received and closes (or was released), ``due_at`` its promise. ``whose_move`` and ``next_step`` are words for
    people. ``cause`` says why it was or will be late: field, jig, plan, saw, fit, weld, coating, transport, design.
    ``number`` is the build's own, by which a page leads to it.
    """

    mark: str
    tie_in: str
    received_at: datetime
    taken_at: datetime | None = None
    clock_start_at: datetime | None = None
    due_at: datetime | None = None
    accepted_at: datetime | None = None
    coating_out_at: datetime | None = None
    coating_back_at: datetime | None = None
    delivered_at: datetime | None = None
    scrapped_at: datetime | None = None
    needs_coating: bool = True
    next_step: str = ""
    whose_move: str = ""
    cause: str = ""
    jig: str = ""
    defects: int = 0
    remeasured: bool = False
    holds: tuple[HoldSpan, ...] = ()
    steps: tuple[StepDone, ...] = ()
    number: int = 0


def as_of(spool: SpoolFacts, at: datetime) -> SpoolFacts | None:
    """Return what was known of the spool at that moment, or nothing if it had not been received."""
    if spool.received_at > at:
        return None
    later = [name for name in STAMPS if (stamp := getattr(spool, name)) is not None and stamp > at]
    steps = tuple(step for step in spool.steps if step.done_at <= at)
    holds = tuple(_hold_as_of(hold, at) for hold in spool.holds if hold.since <= at)
    if not later and len(steps) == len(spool.steps) and holds == spool.holds:
        return spool
    return replace(spool, steps=steps, holds=holds, **dict.fromkeys(later))  # type: ignore[arg-type]


def _hold_as_of(hold: HoldSpan, at: datetime) -> HoldSpan:
    return replace(hold, until=None) if hold.until is not None and hold.until > at else hold


def live_builds(builds: Iterable[SpoolFacts], *, at: datetime) -> tuple[SpoolFacts, ...]:
    """Return one build for each tie-in, as known at that moment.

    A scrapped build passes its start, its due time, its cause and its defects to its replacement; of two causes the
    first counts. A tie-in of which every build is scrapped stays in the list as open work: scrapping hides nothing.
    Leave out tie-ins that are no longer wanted.
    """
    by_tie_in: dict[str, list[SpoolFacts]] = {}
    for build in builds:
        known = as_of(build, at)
        if known is not None:
            by_tie_in.setdefault(known.tie_in, []).append(known)
    return tuple(_fold(group) for group in by_tie_in.values())


def _fold(group: Sequence[SpoolFacts]) -> SpoolFacts:
    if len(group) == 1 and group[0].scrapped_at is None:
        return group[0]
    in_order = sorted(group, key=lambda build: (build.scrapped_at is None, build.scrapped_at or build.received_at))
    last = in_order[-1]
    if last.scrapped_at is not None:
        last = replace(last, accepted_at=None, coating_out_at=None, coating_back_at=None, delivered_at=None)
    inherited = {name: _earliest(getattr(build, name) for build in group) for name in INHERITED}
    defects = sum(build.defects for build in group) + sum(build.scrapped_at is not None for build in group)
    remeasured = any(build.remeasured for build in group)
    cause = next((build.cause for build in in_order if build.cause), "")
    return replace(last, cause=cause, defects=defects, remeasured=remeasured, **inherited)  # type: ignore[arg-type]


def _earliest(stamps: Iterable[datetime | None]) -> datetime | None:
    return min((stamp for stamp in stamps if stamp is not None), default=None)
