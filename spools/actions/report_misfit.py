"""A spool doesn't fit on site: it stops, and the tie-in waits for a new reading."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.actions.hold_spool import hold_spool
from spools.errors import invalid
from spools.models import Person
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, part_key

HOW = {
    "long": "too long",
    "short": "too short",
    "turn": "wrong turn",
    "clocked": "clocked wrong",
    "wrong_end": "wrong end to the main",
}
MISFIT_HOLD = "does not fit"


@all_or_nothing
def report_misfit(
    *,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    how: str,
    reason: str,
    told_by: str = "",
    seen_at: datetime | None = None,
) -> Recorded:
    """Say how a spool doesn't fit; it goes on hold until it is saved or a new reading replaces it.

    ``seen_at`` is when it was found, where the phone had no signal then.
    """
    if how not in HOW:
        raise invalid({"how": f"Say how: {', '.join(HOW.values())}."}, "How doesn't it fit?")
    words = f"{HOW[how]}; {reason.strip()}" if reason.strip() else HOW[how]
    details = {"how": how, "cause": "field"} | ({"told_by": told_by} if told_by else {})
    recorded = do_deed(
        code="misfit",
        spool_id=spool_id,
        person=person,
        key=key,
        at=at,
        reason=words,
        prepare=lambda spool: {"details": details, "done_at": seen_at},
    )
    if not recorded.repeated:
        hold_spool(
            spool_id=spool_id,
            person=person,
            key=part_key(key, "held"),
            at=at,
            reason=f"{MISFIT_HOLD}: {HOW[how]}",
            owner="field",
            as_shop=True,
        )
    return recorded
