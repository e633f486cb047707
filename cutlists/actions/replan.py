"""Plan again what is not yet cut of a plan, such as after new pipe came. Bars on the saw keep their cuts."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from datetime import datetime

from cutlists.actions.plan_cuts import WHO, not_enough
from cutlists.demand import BarCuts, piece_names
from cutlists.laying_out import left_over_u
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.nesting.problem import NotEnoughStock, Plan
from cutlists.nesting.record import Progress
from cutlists.rest_of_plan import Rest, lock_rest, read_rest, solve_rest, write_rest
from cutlists.stockroom import book, keep_bar, sub_key
from spools.errors import not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person, Piece
from spools.transactions import all_or_nothing

SECONDS = 3.0


def replan(
    *,
    plan_id: int,
    person: Person,
    key: str,
    at: datetime,
    more_pieces: Sequence[int] = (),
    seconds: float = SECONDS,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> CutPlan:
    """Plan the uncut rest of a plan again, with ``more_pieces`` joining it.

    Only bars that still lie in the rack change; a bar on the saw lends what it leaves. Where nothing better is found
    the bars stay as they are. The same key adds nothing.
    Raises ``ShopError``: not_your_role, not_found, not_enough_stock, taken_meanwhile.
    """
    if not person.may(WHO):
        raise not_your_role("Plan cuts", say_roles(WHO))
    plan = one_plan(plan_id, person)
    if StockEvent.objects.filter(key=sub_key(key, "again")).exists():
        return plan
    rest = read_rest(plan, _in_the_rack(plan), more=_joining(more_pieces, plan))
    if not rest.pieces:
        return plan
    try:
        found, layout = solve_rest(rest, seconds=seconds, progress=progress, cancelled=cancelled)
    except NotEnoughStock as refusal:
        group = (plan.nps, plan.schedule, plan.material)
        raise not_enough(group, piece_names(rest.day, refusal.pieces), plan.one_heat) from refusal
    return _write(rest, layout, found, person=person, key=key, at=at)


def one_plan(plan_id: int, person: Person) -> CutPlan:
    """Return one plan of the person's shop. Raises ``ShopError`` not_found."""
    plan = CutPlan.objects.for_person(person).select_related("shop", "one_heat").filter(id=plan_id).first()
    if plan is None:
        raise not_found("plan of that number")
    return plan


def _in_the_rack(plan: CutPlan) -> list[StockBar]:
    ids = plan.cuts.filter(state=Cut.State.PLANNED).values("bar_id")
    return list(StockBar.objects.filter(id__in=ids, state=StockBar.State.RESERVED).order_by("id"))


def _joining(ids: Sequence[int], plan: CutPlan) -> list[Piece]:
    return list(
        Piece.objects.filter(id__in=ids, spool__shop_id=plan.shop_id, spool__live=True, is_cut=False)
        .filter(nps=plan.nps, schedule=plan.schedule, material=plan.material, sawn=True)
        .exclude(cuts__state=Cut.State.PLANNED)
        .select_related("spool__tie_in")
    )


def _is_better(rest: Rest, found: Plan) -> bool:
    """Tell whether a plan of the rest takes less than what is planned now, or must replace it anyway."""
    planned: dict[int, list[Cut]] = defaultdict(list)
    for cut in rest.plan.cuts.filter(state=Cut.State.PLANNED, bar_id__in=rest.moving).select_related("bar"):
        planned[cut.bar_id].append(cut)
    now = {cut.piece_id for cuts in planned.values() for cut in cuts}
    if now != {piece.id for piece in rest.pieces}:
        return True
    bars = {bar_id: cuts[0].bar for bar_id, cuts in planned.items()}
    new_u = sum(0 if bar.is_opened else bar.nominal_u for bar in bars.values())
    left = [left_over_u(bars[bar_id], rest.plan, cuts) for bar_id, cuts in planned.items()]
    scrap_u = sum(one for one in left if one < rest.plan.keep_from_u)
    return (found.stock_length_used, found.scrap) < (new_u, scrap_u)


@all_or_nothing
def _write(rest: Rest, layout: list[BarCuts], found: Plan, *, person: Person, key: str, at: datetime) -> CutPlan:
    better = _is_better(rest, found)
    layout = layout if better else [BarCuts(supply.bar, ()) for supply in rest.supplies[:1]]
    bars = lock_rest(rest, layout)
    plan = rest.plan
    if better:
        write_rest(rest, layout, bars, person=person, key=key, at=at)
    bar = bars[layout[0].bar.id]
    told = {"plan": plan.number}
    book(bar, StockEvent.Kind.AGAIN, person=person, key=sub_key(key, "again"), at=at, details=told)
    keep_bar(bar)
    plan.verdict, plan.proven, plan.seconds = f"rest planned again: {found.word}"[:80], found.proven, found.seconds
    plan.lower_bound_u = plan.new_stock_u - found.stock_length_used + found.lower_bound
    plan.save(update_fields=["verdict", "proven", "seconds", "lower_bound_u"])
    return plan
