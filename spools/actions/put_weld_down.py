"""Put one weld down to the person who made it and the procedure it was made by, where one tap told it of all welds."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.errors import ShopError, invalid
from spools.flow.roles import Role
from spools.models import Person, Spool
from spools.recorded import Recorded

LONGEST = 30


def put_weld_down(
    *, spool_id: int, joint: int, welder_id: int, procedure: str, person: Person, key: str, at: datetime
) -> Recorded:
    """Say who made a weld, by which procedure. Raises ``ShopError``: not_done, invalid."""
    welder = Person.objects.filter(id=welder_id, shop_id=person.the_shop_id, is_active=True).first()
    if welder is None or not welder.may(frozenset({Role.FITTER, Role.FOREMAN})):
        raise invalid({"welder": "Choose a welder of this shop."}, "Who made the weld?")

    def prepare(spool: Spool) -> dict[str, Any]:
        if not spool.the_standing.done.get("welded"):
            raise ShopError("not_done", "It is not welded yet.", "Record the weld first.")
        if not 1 <= joint <= spool.the_route.welds:
            raise invalid({"joint": f"Choose a weld from 1 to {spool.the_route.welds}."}, "There is no such weld.")
        return {"details": {"welds": [[joint, welder.id, procedure.strip()[:LONGEST]]]}}

    words = f"weld {joint} by {welder.short_name}" + (f", {procedure.strip()[:LONGEST]}" if procedure.strip() else "")
    return do_deed(code="weld_by", spool_id=spool_id, person=person, key=key, at=at, reason=words, prepare=prepare)
