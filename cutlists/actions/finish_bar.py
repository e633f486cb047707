"""A bar is done with: rack what is worth keeping as a drop, scrap the rest."""

from datetime import datetime

from cutlists.models import CutPlan, StockBar, StockEvent
from cutlists.stockroom import book, rack_drop, sub_key
from spools.models import Person


def finish_bar(bar: StockBar, plan: CutPlan, *, person: Person, key: str, at: datetime) -> StockBar | None:
    """Close a locked bar and return the drop that came of it, if any (the caller keeps the bar)."""
    drop, left = None, bar.length_u
    if left and left >= plan.keep_from_u:
        drop = rack_drop(bar, left, person=person, key=key, at=at)
    elif left:
        book(bar, StockEvent.Kind.SCRAPPED, person=person, key=sub_key(key, "scrap"), at=at, length_u=-left)
    book(bar, StockEvent.Kind.USED, person=person, key=sub_key(key, "used"), at=at)
    bar.state = StockBar.State.USED
    return drop


def leave_bar(bar: StockBar, plan: CutPlan, *, person: Person, key: str, at: datetime) -> StockBar | None:
    """Let go of a locked bar that has nothing left to cut: back to the rack if it wasn't touched, else finished."""
    if bar.used_u == 0 and bar.length_u:
        book(bar, StockEvent.Kind.FREED, person=person, key=sub_key(key, "freed"), at=at)
        bar.state = StockBar.State.IN_STOCK
        return None
    return finish_bar(bar, plan, person=person, key=key, at=at)
