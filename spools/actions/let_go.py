"""Let go of a hold."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.errors import ShopError
from spools.models import Person, Spool
from spools.recorded import Recorded


def let_go(
    *, spool_id: int, person: Person, key: str, at: datetime, hold: int | None = None, reason: str = ""
) -> Recorded:
    """Let go of one hold by its event number, or of the newest."""

    def prepare(spool: Spool) -> dict[str, Any]:
        numbers = [h.number for h in spool.the_standing.holds]
        if not numbers or (hold is not None and hold not in numbers):
            raise ShopError("not_held", "It is not on hold.", "Nothing to let go.")
        return {"details": {"hold": hold or numbers[-1]}}

    return do_deed(code="let_go", spool_id=spool_id, person=person, key=key, at=at, reason=reason, prepare=prepare)
