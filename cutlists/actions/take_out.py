"""Take cuts out of a plan: one piece that must not be cut now, or all that is left."""

from datetime import datetime

from cutlists.actions.cut_piece import close_plan, one_cut
from cutlists.actions.finish_bar import leave_bar
from cutlists.actions.plan_cuts import WHO
from cutlists.actions.replan import one_plan
from cutlists.laying_out import set_positions
from cutlists.models import Cut, CutPlan, StockEvent
from cutlists.stockroom import book, keep_bar, lock_bars, sub_key
from spools.errors import ShopError, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing


@all_or_nothing
def take_out(*, cut_id: int, person: Person, key: str, at: datetime, reason: str = "") -> CutPlan:
    """Take one planned cut out of its plan; the piece waits to be planned again, its bar keeps the length.

    Raises ``ShopError``: not_your_role, not_found, not_planned.
    """
    if not person.may(WHO):
        raise not_your_role("Take a cut out", say_roles(WHO))
    cut = one_cut(cut_id, person)
    bar = lock_bars([cut.bar_id])[cut.bar_id]
    plan = _locked(cut.plan_id)
    if StockEvent.objects.filter(key=key, bar=bar).exists():
        return plan
    cut.refresh_from_db(fields=["state"])
    if cut.state != Cut.State.PLANNED:
        raise ShopError("not_planned", f"{cut.piece} is not waiting on this bar.", "Look at the page again.")
    cut.state = Cut.State.WITHDRAWN
    cut.save(update_fields=["state"])
    told = {"taken_out": str(cut.piece)}
    book(bar, StockEvent.Kind.AGAIN, person=person, key=key, at=at, reason=reason or "taken out", details=told)
    if not set_positions(plan, bar):
        leave_bar(bar, plan, person=person, key=key, at=at)
    keep_bar(bar)
    close_plan(plan)
    return plan


@all_or_nothing
def call_off_plan(*, plan_id: int, person: Person, key: str, at: datetime) -> CutPlan:
    """Take out all that is not cut: untouched bars go back to the rack, opened ones come back as drops.

    Raises ``ShopError``: not_your_role, not_found.
    """
    if not person.may(WHO):
        raise not_your_role("Call a plan off", say_roles(WHO))
    plan = one_plan(plan_id, person)
    ids = list(plan.cuts.filter(state=Cut.State.PLANNED).values_list("bar_id", flat=True).distinct())
    bars = lock_bars(ids)
    plan = _locked(plan.id)
    for bar in bars.values():
        if plan.cuts.filter(bar=bar, state=Cut.State.PLANNED).update(state=Cut.State.WITHDRAWN):
            leave_bar(bar, plan, person=person, key=sub_key(key, "off", bar.id), at=at)
            keep_bar(bar)
    close_plan(plan)
    return plan


def _locked(plan_id: int) -> CutPlan:
    return CutPlan.objects.select_for_update(of=("self",)).select_related("shop").get(id=plan_id)
