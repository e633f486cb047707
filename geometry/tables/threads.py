"""Tapered pipe threads: engagement by size, ASME B1.20.1 and handbook practice."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size


@dataclass(frozen=True, slots=True)
class ThreadRow:
    """One NPT thread: how far it goes in when made up by hand, by wrench and as a rule of the trade."""

    nps: str
    working_engagement_mm: float
    turn_mm: float
    hand_tight_mm: float
    wrench_tight_mm: float
    effective_mm: float
    note: str
    source: str
    confidence: str


def thread(nps: str) -> ThreadRow:
    """Return the NPT thread of a nominal size.

    >>> round(thread("2").working_engagement_mm, 2)
    19.05

    Raises UnknownPipe, which names the sizes there are.
    """
    size = nominal_size(nps)
    row = _threads().get(size)
    if row is None:
        raise UnknownPipe(
            f"No pipe thread in the table for NPS {size}: choose {', '.join(_threads())}, or another end."
        )
    return row


def all_threads() -> tuple[ThreadRow, ...]:
    """Return every thread of the table."""
    return tuple(_threads().values())


@cache
def _threads() -> dict[str, ThreadRow]:
    return {cells["nps"]: _row(cells) for cells in read_rows("threads")}


def _row(cells: dict[str, str]) -> ThreadRow:
    return ThreadRow(
        nps=cells["nps"],
        working_engagement_mm=inches_to_mm(cells["working_engagement_in"]),
        turn_mm=inches_to_mm(cells["turn_in"]),
        hand_tight_mm=inches_to_mm(cells["hand_tight_l1_in"]),
        wrench_tight_mm=inches_to_mm(cells["wrench_tight_l1_l3_in"]),
        effective_mm=inches_to_mm(cells["effective_l2_in"]),
        note=cells["note"],
        source=cells["source"],
        confidence=cells["confidence"],
    )
