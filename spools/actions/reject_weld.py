"""Reject a spool at the check: it goes back to a step, and what stood on that step is withdrawn."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.withdraw import withdrawals
from spools.errors import ShopError, invalid
from spools.flow.defects import DEFECTS
from spools.flow.steps import BY_CODE, say
from spools.models import Person, Spool
from spools.queries.welds import made_here
from spools.recorded import Recorded


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found wrong: the weld by its number (None: no weld of its own), the defect by its name."""

    joint: int | None = None
    defect: str = ""


NO_NAME = Found()


def reject_weld(
    *,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    reason: str,
    back_to: str = "welded",
    cause: str = "weld",
    found: Found = NO_NAME,
) -> Recorded:
    """Send a spool back to a step, with the weld, the defect and its cause; the history stays, the attempt counts.

    It is the finding of a second person: whoever welded on it takes the own weld back instead (``weld_again``).
    """
    if found.defect and found.defect not in DEFECTS:
        raise invalid({"defect": f"Choose the defect: {', '.join(DEFECTS.values())}."}, "What is wrong with it?")

    def prepare(spool: Spool) -> dict[str, Any]:
        standing = spool.the_standing
        if made_here(spool, person):
            raise ShopError(
                "same_person",
                "You welded on it, so rejecting it is for somebody else: it counts as the check.",
                "Is your own weld bad? Say that you do it over. Else ask another fitter or the foreman to look.",
                status=403,
            )
        must_be_its_weld(found, spool)
        if back_to not in BY_CODE or not standing.done.get(back_to):
            word = say(back_to) if back_to in BY_CODE else back_to
            raise ShopError(
                "not_done", f"It is not {word} yet, so there is nothing to send back.", "Choose a step that is done."
            )
        if standing.done.get("at_coating"):
            raise ShopError("at_coating", "It is at coating.", "Count it back first, then reject it.")
        named = {"joint": found.joint, "defect": found.defect} if found != NO_NAME else {}
        return {
            "withdraws": withdrawals(back_to, spool.the_route, standing),
            "details": {"back_to": back_to, "cause": cause, "attempt": standing.attempts + 1} | named,
        }

    words = say_found(reason.strip(), found)
    return do_deed(code="rejected", spool_id=spool_id, person=person, key=key, at=at, reason=words, prepare=prepare)


def must_be_its_weld(found: Found, spool: Spool) -> None:
    """Refuse a weld that the spool doesn't have. Raises ``ShopError`` invalid."""
    if found.joint is not None and not 1 <= found.joint <= spool.the_route.welds:
        raise invalid({"joint": f"Choose a weld from 1 to {spool.the_route.welds}."}, "There is no such weld.")


def say_found(reason: str, found: Found) -> str:
    """Return what was found in words: ``weld 1 porosity: cluster at the throat``."""
    where = f"weld {found.joint}" if found.joint is not None else ""
    what = DEFECTS.get(found.defect, "")
    named = " ".join(filter(None, (where, what)))
    return ": ".join(filter(None, (named, reason)))[:300]
