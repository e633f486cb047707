"""A short stamp of what a crew must know of a tie-in: it changes when pipe, ends, place or make-up change."""

from spools.models import TieIn
from spools.transactions import fingerprint

WATCHED = (
    "main_id",
    "station_mm",
    "side",
    "nps",
    "schedule",
    "material",
    "end_a",
    "end_b",
    "measured_to_a",
    "measured_to_b",
    "bend_kind",
    "bend_options",
    "end_options",
)


def tie_in_stamp(tie_in: TieIn, units: str) -> str:
    """Return the stamp; ``units`` are the job's."""
    return fingerprint([getattr(tie_in, name) for name in WATCHED], units)[:12]
