"""Take a checked list of readings: each by the same rules as at the tie-in, all of them or none."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from spools.actions.take_reading import take_reading
from spools.imports.checked import GoodRow
from spools.imports.readings import ReadingLine
from spools.models import Person
from spools.solving import Typed
from spools.transactions import all_or_nothing, part_key


@dataclass(frozen=True, slots=True)
class Brought:
    """How many were kept, and how many of them became spools."""

    kept: int
    released: int


@all_or_nothing
def bring_readings(*, lines: Sequence[GoodRow[ReadingLine]], person: Person, key: str, at: datetime) -> Brought:
    """Take every line, in the file's order; ``key`` and the line make each one's own key, so a repeat adds nothing.

    What doesn't close is kept for the foreman. Raises ``ShopError`` as ``take_reading`` does; then none is kept.
    """
    taken = [
        take_reading(
            tie_in_id=line.value.tie_in_id,
            set_points_id=line.value.set_points_id,
            typed=Typed(**line.value.typed),
            person=person,
            key=part_key(key, line.line),
            at=at,
            taken_at=line.value.taken_at,
            keep_anyway=True,
        )
        for line in lines
    ]
    return Brought(len(taken), sum(one.spool is not None for one in taken))
