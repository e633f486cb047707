"""The cuts of a plan on their bars: writing them, and keeping each one's tape position true."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from cutlists.demand import BarCuts
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.stockroom import book, keep_bar, sub_key
from cutlists.units import to_units
from spools.models import Person


def start_u(bar: StockBar, plan: CutPlan) -> int:
    """Return where the next piece of a bar begins, from the bar's marked end as it was loaded."""
    return bar.used_u if bar.is_opened else plan.trim_u


def left_over_u(bar: StockBar, plan: CutPlan, planned: Iterable[Cut]) -> int:
    """Return what is left of a bar once its planned cuts are made."""
    trim = 0 if bar.is_opened else plan.trim_u
    return max(0, bar.length_u - trim - sum(cut.length_u + plan.kerf_u for cut in planned))


def lay_out(
    plan: CutPlan,
    layout: Sequence[BarCuts],
    bars: dict[int, StockBar],
    *,
    person: Person,
    key: str,
    at: datetime,
    moved_at: datetime | None = None,
) -> None:
    """Write cuts onto locked bars, after what each has already; reserve those that lie in the rack.

    A bar that the plan has already keeps its number, a new one gets the next.
    """
    known = list(plan.cuts.exclude(state=Cut.State.WITHDRAWN, done_at=None))
    numbers = {cut.bar_id: cut.bar_order for cut in known}
    number = max([cut.bar_order for cut in plan.cuts.only("bar_order")], default=0)
    cuts = []
    for laid in layout:
        bar = bars[laid.bar.id]
        if bar.id not in numbers:
            number += 1
            numbers[bar.id] = number
        mine = [cut for cut in known if cut.bar_id == bar.id]
        cuts += _cuts_of(plan, bar, numbers[bar.id], laid, mine=mine, moved_at=moved_at)
        if bar.state == StockBar.State.IN_STOCK:
            bar.state = StockBar.State.RESERVED
            told = {"plan": plan.number}
            book(bar, StockEvent.Kind.RESERVED, person=person, key=sub_key(key, "bar", bar.id), at=at, details=told)
            keep_bar(bar)
    Cut.objects.bulk_create(cuts)


def _cuts_of(
    plan: CutPlan, bar: StockBar, bar_order: int, laid: BarCuts, *, mine: Sequence[Cut], moved_at: datetime | None
) -> list[Cut]:
    planned = [cut for cut in mine if cut.state == Cut.State.PLANNED]
    position = start_u(bar, plan) + sum(cut.length_u + plan.kerf_u for cut in planned)
    order = max([cut.order for cut in mine], default=0)
    cuts = []
    for piece in laid.pieces:
        order += 1
        length_u = to_units(piece.stock_mm)
        cuts.append(
            Cut(
                plan=plan,
                bar=bar,
                bar_order=bar_order,
                order=order,
                piece=piece,
                build=piece.spool.build,
                position_u=position,
                length_u=length_u,
                moved_at=moved_at,
            )
        )
        position += length_u + plan.kerf_u
    return cuts


def set_positions(plan: CutPlan, bar: StockBar) -> list[Cut]:
    """Put the uncut pieces of a locked bar one after the other behind what is cut; return them in order."""
    planned = list(plan.cuts.filter(bar=bar, state=Cut.State.PLANNED).order_by("order", "id"))
    position, changed = start_u(bar, plan), []
    for cut in planned:
        if cut.position_u != position:
            cut.position_u = position
            changed.append(cut)
        position += cut.length_u + plan.kerf_u
    if changed:
        Cut.objects.bulk_update(changed, ["position_u"])
    return planned
