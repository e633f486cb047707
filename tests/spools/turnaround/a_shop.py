"""A plain shop for the tests: 06:00 to 14:30, Monday to Friday, New York time."""

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

from spools.turnaround.facts import SpoolFacts, StepDone
from spools.turnaround.shifts import Calendar, Shift
from spools.turnaround.snapshot import Snapshot, snapshot

NEW_YORK = "America/New_York"
DAY_SHIFT = (Shift(time(6), time(14, 30)),)
WEEK = (DAY_SHIFT,) * 5 + ((), ())
SHOP = Calendar(NEW_YORK, WEEK)
ROUND_THE_CLOCK = (Shift(time(6), time(14)), Shift(time(14), time(22)), Shift(time(22), time(6)))


def local(text: str, zone: str = NEW_YORK) -> datetime:
    """Read "2026-11-02 10:00" by the wall clock, as UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)


def wall(at: datetime, zone: str = NEW_YORK) -> str:
    """Write a moment by the wall clock."""
    return at.astimezone(ZoneInfo(zone)).strftime("%Y-%m-%d %H:%M")


def day(text: str) -> date:
    """Read a date."""
    return date.fromisoformat(text)


def spool(mark: str, *, start: str, due: str = "", accepted: str = "", steps: str = "", **more: object) -> SpoolFacts:
    """Build a spool by wall clock times; steps are written "cut 2026-11-02 08:00, welded 2026-11-02 10:00"."""
    done = tuple(
        StepDone(word, local(when)) for word, when in (step.strip().split(" ", 1) for step in steps.split(",") if step)
    )
    stamps = {
        name: local(value) if isinstance(value, str) and name.endswith("_at") else value for name, value in more.items()
    }
    return SpoolFacts(
        mark=mark,
        tie_in=str(stamps.pop("tie_in", mark)),
        received_at=stamps.pop("received_at", local(start)),  # type: ignore[arg-type]
        clock_start_at=local(start),
        due_at=local(due) if due else None,
        accepted_at=local(accepted) if accepted else None,
        steps=done,
        **stamps,  # type: ignore[arg-type]
    )


def seen(*spools: SpoolFacts, at: str, calendar: Calendar = SHOP) -> Snapshot:
    """Return the shop as of a wall clock time."""
    return snapshot(spools, at=local(at), calendar=calendar)
