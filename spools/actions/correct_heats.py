"""The heat of some pieces was written down wrong: it is put right by an event, and the wrong one stays in the story."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.errors import ShopError
from spools.models import Heat, Person, Spool
from spools.recorded import Recorded


def correct_heats(
    *, spool_id: int, heats: Mapping[str, Heat], person: Person, key: str, at: datetime, reason: str
) -> Recorded:
    """Give cut pieces of a spool, by mark, the heat they really are of. Raises ``ShopError`` not_cut."""

    def prepare(spool: Spool) -> dict[str, Any]:
        cut = spool.the_standing.done.get("cut", ())
        missing = [mark for mark in heats if mark not in cut]
        if missing:
            raise ShopError("not_cut", f"{', '.join(missing)} is not cut.", "Give the heat when it is cut.")
        was = dict(spool.pieces.filter(mark__in=heats).values_list("mark", "heat__number"))
        return {
            "targets": tuple(heats),
            "details": {
                "heats": {mark: heat.id for mark, heat in heats.items()},
                "was": {mark: number or "" for mark, number in was.items()},
                "now": {mark: heat.number for mark, heat in heats.items()},
            },
        }

    return do_deed(
        code="heat_corrected", spool_id=spool_id, person=person, key=key, at=at, reason=reason, prepare=prepare
    )
