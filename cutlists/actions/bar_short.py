"""A bar turns out shorter than recorded: its length is put right and only its uncut pieces are planned again."""

from datetime import datetime

from cutlists.actions.plan_cuts import WHO
from cutlists.demand import BarCuts, Supply
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.nesting.problem import NotEnoughStock
from cutlists.rest_of_plan import Rest, changed_at_saw, in_order, lock_rest, read_rest, solve_rest, write_rest
from cutlists.stockroom import book, keep_bar, lock_bars
from cutlists.units import to_units_down
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing

SECONDS = 2.0


def bar_short(
    *, bar_id: int, usable_mm: float, person: Person, key: str, at: datetime, reason: str = ""
) -> CutPlan | None:
    """Put a bar's length right and plan its uncut rest again; return the plan, or None when nothing was planned on it.

    Where the stock doesn't suffice, what no longer fits waits to be planned. Typing a length once more mends a slip.
    Raises ``ShopError``: not_your_role, not_found, not_on_hand, invalid, taken_meanwhile.
    """
    if not person.may(WHO):
        raise not_your_role("Bar is short", say_roles(WHO))
    bar = StockBar.objects.for_person(person).select_related("shop").filter(id=bar_id).first()
    if bar is None:
        raise not_found("bar of that tag")
    plan = plan_on(bar)
    if StockEvent.objects.filter(key=key, bar=bar).exists():
        return plan
    usable_u = _usable_u(bar, usable_mm)
    if usable_u == bar.length_u:
        return plan
    words = reason.strip() or "bar is short"
    if plan is None:
        _correct(bar, usable_mm, person=person, key=key, at=at, reason=words)
        return None
    rest = read_rest(plan, [bar], as_if={bar.id: Supply(bar, usable_u, 0, trimmed=bar.is_opened)})
    return _write(rest, layout_of(rest), bar.id, usable_u, person=person, key=key, at=at, reason=words)


def plan_on(bar: StockBar) -> CutPlan | None:
    """Return the plan that has cuts to make on a bar, with its shop."""
    cut = Cut.objects.filter(bar=bar, state=Cut.State.PLANNED).select_related("plan__shop", "plan__one_heat").first()
    return cut.plan if cut else None


def layout_of(rest: Rest) -> list[BarCuts]:
    """Return the best layout of a rest, or what fits in the old order where the stock doesn't suffice."""
    if not rest.pieces:
        return []
    try:
        return solve_rest(rest, seconds=SECONDS)[1]
    except NotEnoughStock:
        return in_order(rest)


def _usable_u(bar: StockBar, usable_mm: float) -> int:
    if bar.state in {StockBar.State.USED, StockBar.State.SCRAPPED}:
        raise ShopError("not_on_hand", f"Bar {bar} is {bar.get_state_display()}.", "Choose the bar in your hands.")
    usable_u = to_units_down(usable_mm)
    if not 0 <= usable_u <= bar.received_u - bar.used_u:
        raise invalid({"usable": "Type what is really left of the bar; it can't be longer than it was recorded."})
    return usable_u


@all_or_nothing
def _correct(bar: StockBar, usable_mm: float, *, person: Person, key: str, at: datetime, reason: str) -> None:
    locked = lock_bars([bar.id])[bar.id]
    if StockEvent.objects.filter(key=key).exists():
        return
    if plan_on(locked):
        raise ShopError("taken_meanwhile", "Somebody planned cuts on this bar meanwhile.", "Tap once more.")
    usable_u = _usable_u(locked, usable_mm)  # it may have been cut or scrapped since it was looked at
    _book(locked, usable_u, person=person, key=key, at=at, reason=reason)
    if usable_u == 0:
        locked.state = StockBar.State.SCRAPPED
    keep_bar(locked)


@all_or_nothing
def _write(
    rest: Rest,
    layout: list[BarCuts],
    bar_id: int,
    usable_u: int,
    *,
    person: Person,
    key: str,
    at: datetime,
    reason: str,
) -> CutPlan:
    bars = lock_rest(rest, layout)
    _book(bars[bar_id], usable_u, person=person, key=key, at=at, reason=reason)
    keep_bar(bars[bar_id])
    write_rest(rest, layout, bars, person=person, key=key, at=at)
    changed_at_saw(rest.plan)
    return rest.plan


def _book(bar: StockBar, usable_u: int, *, person: Person, key: str, at: datetime, reason: str) -> None:
    change = usable_u - bar.length_u
    book(bar, StockEvent.Kind.CORRECTED, person=person, key=key, at=at, length_u=change, reason=reason)
