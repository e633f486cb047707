"""A welder takes the own weld back, to do it over, before anybody has accepted it."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.reject_weld import NO_NAME, Found, must_be_its_weld, say_found
from spools.actions.withdraw import withdrawals
from spools.errors import ShopError, invalid
from spools.flow.defects import DEFECTS
from spools.models import Person, Spool
from spools.queries.welds import made_here
from spools.recorded import Recorded


def weld_again(
    *,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    step: str = "welded",
    reason: str = "",
    found: Found = NO_NAME,
) -> Recorded:
    """Take a weld back that the person made: it is to weld again, and what was wrong stands in the story.

    It is no rejection: the spool hasn't been looked at by a second person yet, so neither the attempt nor first time
    right counts it. Raises ``ShopError``: invalid, not_own_weld, accepted.
    """
    if found.defect not in DEFECTS:
        raise invalid({"defect": f"Choose what is wrong: {', '.join(DEFECTS.values())}."}, "What is wrong with it?")

    def prepare(spool: Spool) -> dict[str, Any]:
        standing = spool.the_standing
        must_be_its_weld(found, spool)
        if step not in made_here(spool, person):
            raise ShopError(
                "not_own_weld", "You have no weld on it now.", "Somebody else's weld is rejected, with the defect."
            )
        if standing.done.get("accepted"):
            raise ShopError(
                "accepted", "It is accepted already.", "Ask the foreman to look at it: he rejects it, or leaves it."
            )
        return {
            "withdraws": withdrawals(step, spool.the_route, standing),
            "details": {"back_to": step, "joint": found.joint, "defect": found.defect},
        }

    words = say_found(reason.strip(), found)
    return do_deed(code="weld_again", spool_id=spool_id, person=person, key=key, at=at, reason=words, prepare=prepare)
