"""Two people told the same step differently: the foreman picks whose word counts, in one tap."""

from datetime import datetime
from typing import Any

from spools.actions.let_go import let_go
from spools.actions.record_step import Tap, record_step
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, not_found, not_your_role
from spools.flow.disputes import TOLD_TWICE
from spools.flow.roles import Role, say_roles
from spools.models import Event, Person, Spool
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, part_key

WHO = frozenset({Role.FOREMAN})
FIRST, SECOND = "first", "second"


@all_or_nothing
def pick_told(*, spool_id: int, hold: int, which: str, person: Person, key: str, at: datetime) -> Recorded:
    """Let the hold go with the first word standing, or with the second in its place: the first is undone for it.

    The second word is recorded as its teller told it, by the teller's own name and at the time of that tap; what a step
    asks for is asked of it too. Raises ``ShopError``: not_your_role, not_found, not_held, depends (something stands on
    the first), and whatever the step refuses.
    """
    if not person.may(WHO):
        raise not_your_role("Pick whose word counts", say_roles(WHO))
    if which not in {FIRST, SECOND}:
        raise not_found("choice of that name")
    spool = Spool.objects.select_for_update(of=("self",)).filter(id=spool_id, shop_id=person.the_shop_id).first()
    held = spool.events.filter(number=hold, code="held", reason__startswith=TOLD_TWICE).first() if spool else None
    if held is None or "told" not in held.details:
        raise not_found("word of a second person on that hold")
    told = held.details["told"]
    whose = told["both"][0 if which == FIRST else 1]
    gone = let_go(spool_id=spool_id, person=person, key=key, at=at, hold=hold, reason=f"it is {whose}")
    if gone.repeated or which == FIRST:
        return gone
    return _put_in_its_place(held, told, person=person, key=key, at=at)


def _put_in_its_place(held: Event, told: dict[str, Any], *, person: Person, key: str, at: datetime) -> Recorded:
    call: dict[str, Any] = {"spool_id": held.spool_id, "at": at}
    first = held.spool.events.get(number=told["first"])
    if not Event.objects.filter(undoes=first).exists():
        why = f"told twice: it is {told['both'][1]}"[:300]
        undo_event(number=first.number, person=person, key=part_key(key, "first"), reason=why, **call)
    recorded = record_step(
        step=told["step"],
        person=held.person,
        key=part_key(key, "second"),
        tap=Tap(
            bench_id=told["bench"],
            check_mm=told["check_mm"],
            included_deg=told["included_deg"],
            procedure=told["procedure"],
            done_at=datetime.fromisoformat(told["done_at"]),
        ),
        **call,
    )
    if recorded.repeated:  # somebody recorded it anew since the hold was set
        raise ShopError("told_since", f"It is {recorded.words} since.", "Look at its story; then let the hold go.")
    return recorded
