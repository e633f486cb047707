"""A bar was looked at in the rack: its length and place are as counted now."""

from datetime import datetime

from cutlists.actions.scrap_bar import bar_in_stock
from cutlists.models import StockBar, StockEvent
from cutlists.stockroom import book, keep_bar
from cutlists.units import to_units_down
from spools.errors import invalid
from spools.models import Person
from spools.transactions import all_or_nothing


@all_or_nothing
def count_bar(
    *,
    bar_id: int,
    person: Person,
    key: str,
    at: datetime,
    length_mm: float | None = None,
    rack: str | None = None,
    reason: str = "",
) -> StockBar:
    """Confirm a bar, or put its length and place right; another length needs a reason.

    Raises ``ShopError``: not_your_role, not_found, invalid, in_use.
    """
    bar = bar_in_stock(bar_id, person, deed="Count a bar", key=key)
    if StockEvent.objects.filter(key=key).exists():
        return bar
    length_u = bar.length_u if length_mm is None else to_units_down(length_mm)
    if length_u <= 0:
        raise invalid({"length": "Type its length, or scrap the bar."})
    if length_u != bar.length_u and not reason.strip():
        raise invalid({"reason": "Say why its length is another."}, "A reason is missing.")
    place = bar.rack if rack is None else rack.strip()[:12]
    told = {"rack": place, "from": bar.rack} if place != bar.rack else {}
    kind = StockEvent.Kind.MOVED if told and length_mm is None else StockEvent.Kind.COUNTED
    bar.rack = place
    change = length_u - bar.length_u
    book(bar, kind, person=person, key=key, at=at, length_u=change, reason=reason.strip(), details=told)
    keep_bar(bar)
    return bar
