"""The zinc is not right: touched up here, or stripped and dipped again, which is a new trip and no new spool."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.withdraw import withdrawals
from spools.errors import ShopError, invalid
from spools.flow.roles import Role
from spools.models import LoadLine, Person, Spool
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, part_key

HOW = {"touch_up": "touch it up", "redip": "strip it and dip it again"}
DEFECTS = {
    "bare": "bare spots",
    "seat": "runs in a gasket seat",
    "blocked": "a groove or hole blocked with zinc",
    "thick": "lumps or ash",
    "other": "other",
}
TOUCH_UP_HOLD = "touch up the zinc"


@all_or_nothing
def reject_coating(
    *, spool_id: int, person: Person, key: str, at: datetime, how: str, defect: str, note: str = ""
) -> Recorded:
    """Reject a coating that is back. Touching up holds it until the foreman lets go; a re-dip sends it out again.

    Raises ``ShopError``: invalid, not_coated, and those of every deed.
    """
    trouble = {}
    if how not in HOW:
        trouble["how"] = "Say whether it is touched up, or stripped and dipped again."
    if defect not in DEFECTS:
        trouble["defect"] = f"Say what is wrong: {', '.join(DEFECTS.values())}."
    if trouble:
        raise invalid(trouble, next(iter(trouble.values())))
    words = "; ".join(part for part in (DEFECTS[defect], note.strip(), HOW[how]) if part)[:300]

    def prepare(spool: Spool) -> dict[str, Any]:
        standing = spool.the_standing
        if not standing.done.get("back"):
            raise ShopError("not_coated", "It isn't back from coating.", "Count it back first.")
        again = withdrawals("at_coating", spool.the_route, standing) if how == "redip" else ()
        return {"withdraws": again, "details": {"how": how, "defect": defect, "cause": "coating"}}

    call: dict[str, Any] = {"spool_id": spool_id, "person": person, "at": at}
    recorded = do_deed(code="coating_bad", **call, key=key, reason=words, prepare=prepare)
    if recorded.repeated:
        return recorded
    if person.may(frozenset({Role.FOREMAN})):
        _let_go_of_damage(recorded.spool, call, key=key, why=words)
    if how == "touch_up":
        hold_spool(
            **call,
            key=part_key(key, "held"),
            reason=f"{TOUCH_UP_HOLD}: {DEFECTS[defect]}",
            owner="foreman",
            as_shop=True,
        )
    else:
        LoadLine.objects.filter(spool_id=spool_id, settled="").update(settled="taken off")
    return recorded


def _let_go_of_damage(spool: Spool, call: dict[str, Any], *, key: str, why: str) -> None:
    """The question that the damage put on hold is answered by this."""
    for hold in spool.the_standing.holds:
        if hold.reason.startswith("damaged:"):
            let_go(**call, key=part_key(key, "g", hold.number), hold=hold.number, reason=why)
