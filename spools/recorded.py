"""The answer to a deed, for whoever asked for it."""

from dataclasses import dataclass

from spools.models import Event, Spool


@dataclass(frozen=True, slots=True)
class Recorded:
    """The event, and whether it was there before (the same key, or somebody was first)."""

    event: Event
    spool: Spool
    repeated: bool = False
    words: str = ""
