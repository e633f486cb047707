"""A heat was typed wrong at loading: it is put right on the bar, its drops, and every piece that was cut from them."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from django.db.models import QuerySet

from cutlists.actions.receive_bars import WHO, heat_of
from cutlists.models import Cut, StockBar, StockEvent
from cutlists.stockroom import book, keep_bar, lock_bars, sub_key
from spools.actions.correct_heats import correct_heats
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Heat, Person, Piece
from spools.transactions import all_or_nothing, part_key


@dataclass(frozen=True, slots=True)
class Corrected:
    """The bar with its heat put right, and how many bars and spools carry it now."""

    bar: StockBar
    bars: int
    spools: int


@all_or_nothing
def correct_heat(*, bar_id: int, heat: str, reason: str, person: Person, key: str, at: datetime) -> Corrected:
    """Put a bar's heat right, on its drops and on its pieces too; each spool gets an event that says so.

    Spools first, then bars: the lock order everywhere. Raises ``ShopError``: not_your_role, not_found, invalid,
    of_another (a drop whose bar was read wrong: the heat is put right there).
    """
    if not person.may(WHO):
        raise not_your_role("Put a heat right", say_roles(WHO))
    bar = StockBar.objects.for_person(person).select_related("heat", "cut_from").filter(id=bar_id).first()
    if bar is None:
        raise not_found("bar of that tag")
    if StockEvent.objects.filter(key=sub_key(key, "heat", bar.id)).exists():
        return Corrected(bar, 0, 0)
    right = _right_one(bar, heat, reason, person)
    family = _family(bar)
    spools: dict[int, list[str]] = defaultdict(list)
    for piece in pieces_of(family).filter(heat=bar.heat):
        spools[piece.spool_id].append(piece.mark)
    for spool_id in sorted(spools):
        heats = dict.fromkeys(spools[spool_id], right)
        part = part_key(key, spool_id)
        correct_heats(spool_id=spool_id, heats=heats, reason=reason, person=person, key=part, at=at)
    told = {"heat": right.number, "heat_was": bar.heat.number if bar.heat else ""}
    for one in lock_bars([member.id for member in family]).values():
        part = sub_key(key, "heat", one.id)
        book(one, StockEvent.Kind.CORRECTED, person=person, key=part, at=at, reason=reason.strip(), details=told)
        one.heat = right
        keep_bar(one)
    Cut.objects.filter(bar__in=family, state=Cut.State.DONE, heat=bar.heat).update(heat=right)
    bar.refresh_from_db()
    return Corrected(bar, len(family), len(spools))


def _right_one(bar: StockBar, heat: str, reason: str, person: Person) -> Heat:
    if not reason.strip():
        raise invalid({"reason": "Say how it came out, such as read off the stencil again."})
    right = heat_of(heat, bar.material, person)
    if right is None:
        raise invalid({"heat": "Type the heat number that is on the stencil."})
    if right.id == bar.heat_id:
        raise invalid({"heat": f"Bar {bar} has heat {right} already."})
    if bar.cut_from and bar.cut_from.heat_id == bar.heat_id:
        raise ShopError(
            "of_another", f"Drop {bar} came off bar {bar.cut_from}.", f"Put the heat right on bar {bar.cut_from}."
        )
    return right


def _family(bar: StockBar) -> list[StockBar]:
    """Return a bar with its drops, and theirs, as far as they carry its heat."""
    found, looking = [bar], [bar]
    while looking:
        drops = list(StockBar.objects.filter(cut_from__in=looking, heat=bar.heat))
        found += drops
        looking = drops
    return found


def pieces_of(bars: list[StockBar]) -> QuerySet[Piece]:
    """Return the pieces of live builds that were cut from these bars."""
    made = Cut.objects.filter(bar__in=bars, state=Cut.State.DONE).values("piece_id")
    return Piece.objects.filter(id__in=made, is_cut=True, spool__live=True).order_by("spool_id", "id")
