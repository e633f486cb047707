"""Spools as rows for a file."""

from collections.abc import Iterable, Iterator
from typing import Any

from spools.flow.steps import BY_CODE
from spools.models import Shop, Spool

SPOOL_COLUMNS = (
    "mark",
    "build",
    "job",
    "main",
    "station_ft",
    "nps",
    "schedule",
    "status",
    "next",
    "bench",
    "rush",
    "on_hold",
    "due",
    "accepted",
    "delivered",
    "tag",
    "black_lb",
)


def spool_rows(spools: Iterable[Spool], shop: Shop) -> Iterator[tuple[Any, ...]]:
    """Yield one row for each spool, times on the shop's clock."""
    zone = shop.zone
    for spool in spools:
        yield (
            spool.tie_in.mark,
            spool.letter,
            spool.tie_in.job.number,
            spool.tie_in.main.name,
            round(spool.tie_in.station_mm / 304.8, 2),
            spool.nps,
            spool.schedule,
            spool.status_word,
            BY_CODE[spool.next_step].imperative if spool.next_step else "",
            spool.bench.name if spool.bench else "",
            "yes" if spool.rush else "",
            "yes" if spool.hold_count else "",
            spool.due_at.astimezone(zone),
            spool.accepted_at.astimezone(zone) if spool.accepted_at else None,
            spool.delivered_at.astimezone(zone) if spool.delivered_at else None,
            spool.tag,
            round(spool.black_kg / 0.45359237),
        )
