"""A job's tie-ins as rows for a file."""

from collections.abc import Iterator
from typing import Any

from django.db.models import Prefetch

from spools.flow.steps import BY_CODE
from spools.models import Job, Spool, TieIn

TIE_IN_COLUMNS = (
    "mark",
    "main",
    "station_ft",
    "side",
    "nps",
    "schedule",
    "end_at_main",
    "end_at_drain",
    "status",
    "next",
    "due",
    "on_hold",
)


def tie_in_rows(job: Job) -> Iterator[tuple[Any, ...]]:
    """Yield one row for each tie-in, in walking order."""
    zone = job.shop.zone
    live = Prefetch("spools", Spool.objects.live())
    for tie_in in job.tie_ins.along_the_main().select_related("main").prefetch_related(live):
        spool = next(iter(tie_in.spools.all()), None)
        yield (
            tie_in.mark,
            tie_in.main.name,
            round(tie_in.station_mm / 304.8, 2),
            tie_in.side,
            tie_in.nps,
            tie_in.schedule,
            tie_in.end_a,
            tie_in.end_b,
            spool.status_word if spool else _without_spool(tie_in),
            BY_CODE[spool.next_step].imperative if spool and spool.next_step else "",
            spool.due_at.astimezone(zone) if spool else None,
            "yes" if spool and spool.hold_count else "",
        )


def _without_spool(tie_in: TieIn) -> str:
    return "waits for the foreman" if tie_in.current_reading_id else "to measure"
