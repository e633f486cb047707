"""A planned cut is made: the piece's step and the bar's length move together."""

from dataclasses import dataclass
from datetime import datetime

from cutlists.actions.finish_bar import finish_bar
from cutlists.laying_out import set_positions
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.stockroom import book, keep_bar, sub_key
from cutlists.units import to_mm
from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError, not_found
from spools.models import Event, Person, Spool
from spools.recorded import Recorded
from spools.say_lengths import say_length
from spools.transactions import all_or_nothing


@dataclass(frozen=True, slots=True)
class CutMade:
    """The answer: the cut, its event, and the drop that came back, if any."""

    cut: Cut
    recorded: Recorded
    drop: StockBar | None = None


@all_or_nothing
def cut_piece(
    *,
    cut_id: int,
    person: Person,
    key: str,
    at: datetime,
    already: bool = False,
    done_at: datetime | None = None,
) -> CutMade:
    """Record one cut of a plan: spool first, then bar (the lock order everywhere).

    ``already`` says that a piece which somebody recorded as cut elsewhere did come from this bar; ``done_at`` when it
    was tapped, if the tablet had no network then.
    Raises ``ShopError``: not_found, withdrawn, cut_elsewhere, bar_short, and all that ``record_step`` refuses (a
    revised or held spool stops here).
    """
    cut = one_cut(cut_id, person)
    before = _made_before(cut, key)
    if before:
        return before
    tap = Tap(targets=(cut.piece.mark,), heats=_heat_of(cut), already=already, done_at=done_at)
    recorded = record_step(spool_id=cut.piece.spool_id, step="cut", person=person, key=key, at=at, tap=tap)
    bar = StockBar.objects.select_for_update(of=("self",)).get(id=cut.bar_id)
    cut.refresh_from_db(fields=["state", "position_u"])
    if cut.state == Cut.State.DONE:
        return CutMade(cut, recorded)
    if cut.state == Cut.State.WITHDRAWN:
        raise ShopError("withdrawn", "This cut was taken out of the plan.", "Look at the newest plan.")
    if recorded.repeated and not already:
        raise _cut_elsewhere(cut, recorded)
    take_from_bar(bar, cut, person=person, key=key, at=at)
    cut.state, cut.heat_id, cut.done_at = Cut.State.DONE, bar.heat_id, done_at or at
    cut.save(update_fields=["state", "heat", "done_at", "position_u"])
    drop = None
    if not set_positions(cut.plan, bar):
        CutPlan.objects.select_for_update(of=("self",)).get(id=cut.plan_id)
        drop = finish_bar(bar, cut.plan, person=person, key=key, at=at)
        close_plan(cut.plan)
    keep_bar(bar)
    return CutMade(cut, recorded, drop)


def one_cut(cut_id: int, person: Person) -> Cut:
    """Return one cut of the person's shop. Raises ``ShopError`` not_found."""
    found = (
        Cut.objects.select_related("piece__spool__tie_in__job", "plan__shop", "bar")
        .defer("piece__spool__solution", "piece__spool__route")
        .filter(id=cut_id, plan__shop_id=person.the_shop_id)
        .first()
    )
    if found is None:
        raise not_found("cut of that number")
    return found


def start_on_saw(bar: StockBar, cut: Cut, *, person: Person, key: str, at: datetime) -> None:
    """Put a locked bar on the saw: the first time, its end is trimmed."""
    bar.state = StockBar.State.ON_SAW
    trim = 0 if bar.is_opened else min(cut.plan.trim_u, bar.length_u)
    if trim:
        book(bar, StockEvent.Kind.TRIMMED, person=person, key=sub_key(key, "trim"), at=at, length_u=-trim)


def take_kerf(bar: StockBar, cut: Cut, *, person: Person, key: str, at: datetime) -> None:
    """Take the blade's way off a locked bar; a last cut that runs out of the end costs only what is there."""
    kerf = min(cut.plan.kerf_u, bar.length_u)
    if kerf:
        book(bar, StockEvent.Kind.KERF, person=person, key=sub_key(key, "kerf"), at=at, length_u=-kerf)


def take_from_bar(bar: StockBar, cut: Cut, *, person: Person, key: str, at: datetime) -> None:
    """Book trim, piece and kerf of one cut on a locked bar."""
    start_on_saw(bar, cut, person=person, key=key, at=at)
    if cut.length_u > bar.length_u:
        units = cut.piece.spool.tie_in.job.units
        raise ShopError(
            "bar_short",
            f"Bar {bar} has only {say_length(to_mm(bar.length_u), units)} left, this piece needs "
            f"{say_length(to_mm(cut.length_u), units)}.",
            "Measure the bar, tap BAR IS SHORT and type its length.",
        )
    cut.position_u = bar.used_u
    key_of_cut = sub_key(key, "cut")
    book(bar, StockEvent.Kind.CUT, person=person, key=key_of_cut, at=at, length_u=-cut.length_u, piece=cut.piece)
    take_kerf(bar, cut, person=person, key=key, at=at)


def close_plan(plan: CutPlan) -> None:
    """Close a locked plan once nothing of it is left to cut."""
    if plan.cuts.filter(state=Cut.State.PLANNED).exists():
        return
    cut_any = plan.cuts.filter(state=Cut.State.DONE).exists()
    plan.state = CutPlan.State.DONE if cut_any else CutPlan.State.WITHDRAWN
    plan.save(update_fields=["state"])


def _made_before(cut: Cut, key: str) -> CutMade | None:
    if not StockEvent.objects.filter(key=sub_key(key, "cut"), piece=cut.piece).exists():
        return None
    mine = Event.objects.filter(key=key).first()
    # Without an event of this key it came from this bar, but was recorded elsewhere.
    event = mine or Event.objects.filter(spool_id=cut.piece.spool_id, code="cut").latest("number")
    spool = Spool.objects.get(id=cut.piece.spool_id)
    drop = StockBar.objects.filter(events__key=sub_key(key, "drop")).first()
    return CutMade(cut, Recorded(event, spool, repeated=True), drop)


def _heat_of(cut: Cut) -> dict[str, int]:
    heat_id = cut.bar.heat_id
    return {cut.piece.mark: heat_id} if heat_id else {}


def _cut_elsewhere(cut: Cut, recorded: Recorded) -> ShopError:
    return ShopError(
        "cut_elsewhere",
        f"{cut.piece} is {recorded.words or 'cut already'}, but not from a bar of this plan.",
        "Did it come from this bar? Then say so. If not, take it out of the plan.",
        facts={"cut": cut.id},
    )
