"""A piece was cut wrong: it must be cut again, and what was done to its ends goes with it."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.withdraw import withdrawals
from spools.errors import ShopError
from spools.models import Person, Spool
from spools.recorded import Recorded


def wrong_cut(
    *, spool_id: int, piece: str, person: Person, key: str, at: datetime, reason: str, real_mm: float | None = None
) -> Recorded:
    """Withdraw one piece's cut; ``real_mm`` is the length it really has, for finding it another place."""

    def prepare(spool: Spool) -> dict[str, Any]:
        route, standing = spool.the_route, spool.the_standing
        if piece not in route.sawn():
            raise ShopError(
                "not_on_route", f"There is no piece {piece} to cut.", f"Choose from {', '.join(route.sawn())}."
            )
        if standing.done.get("welded"):
            raise ShopError("welded", "It is welded in already.", "Reject the weld instead.")
        return {
            "withdraws": withdrawals("cut", route, standing, piece=piece),
            "details": {"piece": piece, "real_mm": real_mm, "cause": "saw"},
        }

    return do_deed(code="wrong_cut", spool_id=spool_id, person=person, key=key, at=at, reason=reason, prepare=prepare)
