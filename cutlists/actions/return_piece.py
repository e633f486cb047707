"""A cut leg of a build that has ended comes back to the rack, with its heat and a tag of its own."""

from datetime import datetime

from cutlists.actions.plan_cuts import WHO
from cutlists.models import Cut, StockBar, StockEvent
from cutlists.stockroom import book, keep_bar, next_tags
from cutlists.units import to_units, to_units_down
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person, Piece
from spools.transactions import all_or_nothing


@all_or_nothing
def return_piece(
    *, piece_id: int, usable_mm: float, person: Person, key: str, at: datetime, rack: str = "", reason: str = ""
) -> StockBar:
    """Rack what is usable of a cut piece: its length without grooved, beveled or welded ends.

    Raises ``ShopError``: not_your_role, not_found, still_needed, returned, invalid.
    """
    if not person.may(WHO):
        raise not_your_role("Return a leg", say_roles(WHO))
    piece = (
        Piece.objects.select_for_update(of=("self",))
        .select_related("spool__tie_in")
        .filter(id=piece_id, spool__shop_id=person.the_shop_id, sawn=True)
        .first()
    )
    if piece is None:
        raise not_found("piece of that mark")
    earlier = StockEvent.objects.select_related("bar").filter(kind=StockEvent.Kind.RETURNED, piece=piece).first()
    if earlier and earlier.key == key:
        return earlier.bar
    if earlier:
        raise ShopError("returned", f"{piece} is in the rack already as {earlier.bar}.", "Look for that tag.")
    if piece.spool.live or not piece.is_cut:
        raise ShopError("still_needed", f"{piece} is not a cut leg of a build that has ended.", "Choose another piece.")
    length_u = to_units_down(usable_mm)
    if not 0 < length_u <= to_units(piece.stock_mm):
        raise invalid({"usable": "Type what is usable of it; it can't be longer than it was cut."})
    (tag,) = next_tags(person.the_shop_id, drop=True)
    cut = Cut.objects.filter(piece=piece, state=Cut.State.DONE).first()
    bar = StockBar(
        shop_id=person.the_shop_id,
        tag=tag,
        nps=piece.nps,
        schedule=piece.schedule,
        material=piece.material,
        heat_id=piece.heat_id,
        is_drop=True,
        cut_from_id=cut.bar_id if cut else None,
        nominal_u=0,
        received_u=length_u,
        length_u=0,
        rack=rack.strip()[:12],
    )
    bar.save(force_insert=True)
    words = reason.strip() or f"{piece} came back"
    book(bar, StockEvent.Kind.RETURNED, person=person, key=key, at=at, length_u=length_u, piece=piece, reason=words)
    keep_bar(bar)
    return bar
