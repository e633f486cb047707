"""Leave the next piece of a bar for later: it goes behind the others of its bar, and their tape positions move up."""

from datetime import datetime

from django.db.models import Max

from cutlists.actions.cut_piece import one_cut
from cutlists.actions.plan_cuts import WHO
from cutlists.laying_out import set_positions
from cutlists.models import Cut, StockEvent
from cutlists.stockroom import book, keep_bar, lock_bars
from spools.errors import ShopError, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person
from spools.transactions import all_or_nothing


@all_or_nothing
def skip_cut(*, cut_id: int, person: Person, key: str, at: datetime) -> Cut:
    """Put a planned cut behind the others of its bar.

    Raises ``ShopError``: not_your_role, not_found, not_planned, last.
    """
    if not person.may(WHO):
        raise not_your_role("Skip a cut", say_roles(WHO))
    cut = one_cut(cut_id, person)
    bar = lock_bars([cut.bar_id])[cut.bar_id]
    if StockEvent.objects.filter(key=key, bar=bar).exists():
        return cut
    cut.refresh_from_db(fields=["state", "order"])
    if cut.state != Cut.State.PLANNED:
        raise ShopError("not_planned", f"{cut.piece} is not waiting on this bar.", "Look at the page again.")
    others = cut.plan.cuts.filter(bar=bar, state=Cut.State.PLANNED).exclude(id=cut.id)
    last = others.aggregate(n=Max("order"))["n"]
    if last is None:
        raise ShopError("last", f"{cut.piece} is the last on bar {bar}.", "Choose another bar, or take it out.")
    cut.order = max(last, cut.order) + 1
    cut.save(update_fields=["order"])
    book(
        bar, StockEvent.Kind.AGAIN, person=person, key=key, at=at, reason="skipped", details={"skipped": str(cut.piece)}
    )
    keep_bar(bar)
    set_positions(cut.plan, bar)
    return cut
