"""Cut an open piece from a kept length: what was cut wrong, or came back, serves another tie-in."""

from datetime import datetime

from django.db.models import Max

from cutlists.actions.finish_bar import leave_bar
from cutlists.actions.plan_cuts import WHO, taken_meanwhile
from cutlists.demand import BarCuts
from cutlists.laying_out import lay_out, set_positions
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.nesting.problem import PROVEN
from cutlists.rest_of_plan import changed_at_saw, sum_up
from cutlists.stockroom import keep_bar, lock_bars, sub_key
from cutlists.units import PER_64TH, PER_INCH, to_units
from spools.errors import ShopError, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Person, Piece, Shop
from spools.transactions import all_or_nothing


@all_or_nothing
def cut_from(*, piece_id: int, bar_id: int, person: Person, key: str, at: datetime) -> Cut:
    """Plan one open piece onto a bar or drop in the rack, out of the plan it stands in, or in one of its own.

    Raises ``ShopError``: not_your_role, not_found, not_open, too_short, in_use, other_pipe, taken_meanwhile.
    """
    if not person.may(WHO):
        raise not_your_role("Cut from a kept piece", say_roles(WHO))
    booked = StockEvent.objects.filter(key=sub_key(key, "bar", bar_id), bar__shop_id=person.the_shop_id).exists()
    if booked:
        return Cut.objects.filter(piece_id=piece_id, bar_id=bar_id).latest("id")
    piece = _open_piece(piece_id, person)
    before = Cut.objects.select_related("plan").filter(piece=piece, state=Cut.State.PLANNED).first()
    bars = lock_bars([bar_id, *([before.bar_id] if before else [])])
    bar = bars.get(bar_id)
    if bar is None or bar.shop_id != person.the_shop_id:
        raise not_found("bar of that tag")
    _fits(piece, bar)
    if before:
        plan = _out_of(before, bars[before.bar_id], person=person, key=key, at=at)
    else:
        plan = _plan_of_its_own(bar, person=person, key=key, at=at)
    Cut.objects.filter(piece=piece, state=Cut.State.DONE).update(state=Cut.State.WITHDRAWN)
    lay_out(plan, [BarCuts(bar, (piece,))], bars, person=person, key=key, at=at)
    sum_up(plan)
    return Cut.objects.get(piece=piece, state=Cut.State.PLANNED)


def _open_piece(piece_id: int, person: Person) -> Piece:
    piece = (
        Piece.objects.select_related("spool__tie_in")
        .filter(id=piece_id, spool__shop_id=person.the_shop_id, sawn=True)
        .first()
    )
    if piece is None:
        raise not_found("piece of that mark")
    if piece.is_cut or not piece.spool.live or piece.spool.hold_count:
        raise ShopError("not_open", f"{piece} is cut, on hold or of a build that has ended.", "Choose another piece.")
    return piece


def _fits(piece: Piece, bar: StockBar) -> None:
    if bar.state != StockBar.State.IN_STOCK:
        raise ShopError("in_use", f"{bar} is {bar.get_state_display()}.", "Choose one that lies in the rack.")
    if (bar.nps, bar.schedule, bar.material) != (piece.nps, piece.schedule, piece.material):
        raise ShopError("other_pipe", f"{bar} is other pipe than {piece} needs.", "Choose another piece.")
    if to_units(piece.stock_mm) > bar.length_u:
        raise ShopError("too_short", f"{bar} is too short for {piece}.", "Choose another piece.")


def _out_of(before: Cut, bar: StockBar, *, person: Person, key: str, at: datetime) -> CutPlan:
    """Take the piece off the bar where it was planned; what else is planned there moves up."""
    plan = CutPlan.objects.select_for_update(of=("self",)).get(id=before.plan_id)
    taken = Cut.objects.filter(id=before.id, state=Cut.State.PLANNED).update(state=Cut.State.WITHDRAWN)
    if not taken:
        raise taken_meanwhile()
    if not set_positions(plan, bar):
        leave_bar(bar, plan, person=person, key=sub_key(key, "leave"), at=at)
        keep_bar(bar)
    changed_at_saw(plan)
    return plan


def _plan_of_its_own(bar: StockBar, *, person: Person, key: str, at: datetime) -> CutPlan:
    """Open a plan of one kept length: it takes no new stock, so nothing can take less."""
    shop = Shop.objects.select_for_update().get(id=person.the_shop_id)
    newest = CutPlan.objects.filter(shop=shop).aggregate(n=Max("number"))["n"] or 0
    return CutPlan.objects.create(
        shop=shop,
        number=newest + 1,
        nps=bar.nps,
        schedule=bar.schedule,
        material=bar.material,
        made_by=person,
        made_at=at,
        kerf_u=shop.kerf_64ths * PER_64TH,
        trim_u=shop.end_trim_64ths * PER_64TH,
        keep_from_u=shop.keep_from_in * PER_INCH,
        new_stock_u=0,
        lower_bound_u=0,
        proven=bar.nominal_u == 0,
        verdict=PROVEN if bar.nominal_u == 0 else "one piece on one bar",
        seconds=0.0,
        key=f"{key}:own"[:64],
    )
