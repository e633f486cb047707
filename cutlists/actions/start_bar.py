"""A bar is laid on the saw, and its heat read off the stencil; pieces cut from now on carry it."""

from datetime import datetime

from cutlists.actions.bar_short import plan_on
from cutlists.actions.plan_cuts import WHO
from cutlists.actions.receive_bars import heat_of
from cutlists.models import StockBar, StockEvent
from cutlists.stockroom import book, keep_bar
from spools.errors import ShopError, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing


@all_or_nothing
def start_bar(*, bar_id: int, person: Person, key: str, at: datetime, heat: str = "") -> StockBar:
    """Put a planned bar on the saw; ``heat`` is what its stencil says, nothing leaves what is known.

    Raises ``ShopError``: not_your_role, not_found, not_planned, heat_cut (pieces carry another heat already),
    other_heat (the plan keeps to one), invalid.
    """
    if not person.may(WHO):
        raise not_your_role("Start a bar", say_roles(WHO))
    bar = StockBar.objects.select_for_update(of=("self",)).for_person(person).filter(id=bar_id).first()
    if bar is None:
        raise not_found("bar of that tag")
    if StockEvent.objects.filter(key=key, bar=bar).exists():
        return bar
    plan = plan_on(bar)
    if plan is None:
        raise ShopError("not_planned", f"Nothing is planned on bar {bar}.", "Choose a bar of an open plan.")
    melt = heat_of(heat, bar.material, person)
    if melt and plan.one_heat_id and melt.id != plan.one_heat_id:
        raise ShopError(
            "other_heat",
            f"{plan} may cut from heat {plan.one_heat} only, and the stencil says {melt}.",
            "Lay a bar of that heat on, or call the plan off and plan again with any heat.",
        )
    if melt and melt.id != bar.heat_id:
        if bar.used_u and not bar.is_drop:
            under = f"under heat {bar.heat}" if bar.heat else "without a heat"
            raise ShopError(
                "heat_cut",
                f"Pieces were cut from bar {bar} already, {under}.",
                "Put the heat right on the bar's own page: its pieces and their spools change with it.",
                facts={"bar": bar.id},
            )
        bar.heat = melt
    told = {"heat": melt.number} if melt else {}
    book(bar, StockEvent.Kind.LOADED, person=person, key=key, at=at, details=told)
    bar.state = StockBar.State.ON_SAW
    keep_bar(bar)
    return bar
