"""Take a bar out of the stock room."""

from datetime import datetime

from cutlists.actions.receive_bars import WHO
from cutlists.models import StockBar, StockEvent
from cutlists.stockroom import book, keep_bar
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing


@all_or_nothing
def scrap_bar(*, bar_id: int, person: Person, key: str, at: datetime, reason: str) -> StockBar:
    """Scrap a bar that no plan has reserved. Raises ``ShopError``: not_your_role, not_found, invalid, in_use."""
    bar = bar_in_stock(bar_id, person, deed="Scrap a bar", key=key)
    if StockEvent.objects.filter(key=key).exists():
        return bar
    if not reason.strip():
        raise invalid({"reason": "Say why in a few words."}, "A reason is missing.")
    book(bar, StockEvent.Kind.SCRAPPED, person=person, key=key, at=at, length_u=-bar.length_u, reason=reason.strip())
    bar.state = StockBar.State.SCRAPPED
    keep_bar(bar)
    return bar


def bar_in_stock(bar_id: int, person: Person, *, deed: str, key: str) -> StockBar:
    """Lock one bar that lies in the rack and in no plan; a repeated key gets it as it is now.

    Raises ``ShopError``: not_your_role, not_found, in_use.
    """
    if not person.may(WHO):
        raise not_your_role(deed, say_roles(WHO))
    bar = StockBar.objects.select_for_update(of=("self",)).for_person(person).filter(id=bar_id).first()
    if bar is None:
        raise not_found("bar of that tag")
    if bar.state != StockBar.State.IN_STOCK and not StockEvent.objects.filter(key=key, bar=bar).exists():
        what = "Take it out of its plan first." if bar.state in {"reserved", "on_saw"} else "Choose one in the rack."
        raise ShopError("in_use", f"Bar {bar} is {bar.get_state_display()}.", what)
    return bar
