"""A cut was tapped by mistake: the step is undone and the bar is as it was before the tap."""

from datetime import datetime

from cutlists.actions.cut_piece import one_cut
from cutlists.laying_out import set_positions
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.stockroom import book, keep_bar, lock_bars, put_back, still_standing, sub_key
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Event, Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.CUTTER, Role.FOREMAN})
Kind = StockEvent.Kind
# What one tap on CUT DONE books, in this order; the correction of a short bar stands on its own.
OF_A_CUT = frozenset({Kind.TRIMMED, Kind.CUT, Kind.KERF, Kind.DROPPED, Kind.SCRAPPED, Kind.USED})


@all_or_nothing
def undo_cut(*, cut_id: int, person: Person, key: str, at: datetime, reason: str = "") -> Cut:
    """Undo one done cut, newest first on its bar. A step undone on the spool's own page only gets its steel back.

    Raises ``ShopError``: not_your_role, not_found, not_cut, not_newest (a later cut of the bar is done), drop_used,
    recorded_together, and what undo refuses.
    """
    if not person.may(WHO):
        raise not_your_role("Undo a cut", say_roles(WHO))
    cut = one_cut(cut_id, person)
    if StockEvent.objects.filter(key=sub_key(key, "uncut"), bar_id=cut.bar_id).exists():
        return cut
    event = _event_of(cut)
    if event:
        undo_event(spool_id=cut.piece.spool_id, number=event.number, person=person, key=key, at=at, reason=reason)
    bar = StockBar.objects.select_for_update(of=("self",)).get(id=cut.bar_id)
    cut.refresh_from_db(fields=["state"])
    if cut.state != Cut.State.DONE:
        raise ShopError("not_cut", f"{cut.piece} is not cut, or its cut was taken back.", "Look at the page again.")
    booked = _booked(bar, cut)
    CutPlan.objects.select_for_update(of=("self",)).get(id=cut.plan_id)
    book(bar, Kind.UNCUT, person=person, key=sub_key(key, "uncut"), at=at, piece=cut.piece, reason=reason)
    for row in reversed(booked):
        if row.kind == Kind.DROPPED:
            _take_drop_back(bar, row, person=person, key=key, at=at)
        put_back(row, bar, person=person, key=key, at=at)
    bar.state = StockBar.State.ON_SAW if bar.used_u or _is_loaded(bar) else StockBar.State.RESERVED
    keep_bar(bar)
    cut.state, cut.done_at, cut.heat = Cut.State.PLANNED, None, None
    cut.save(update_fields=["state", "done_at", "heat"])
    set_positions(cut.plan, bar)
    CutPlan.objects.filter(id=cut.plan_id).update(state=CutPlan.State.OPEN)
    return cut


def _event_of(cut: Cut) -> Event | None:
    """Return the event that says this piece is cut, or None where it was undone already."""
    if not cut.piece.is_cut:
        return None
    events = Event.objects.filter(spool_id=cut.piece.spool_id, code="cut", undone_by=None).order_by("-number")
    event = next((e for e in events if cut.piece.mark in e.targets), None)
    if event and len(event.targets) > 1:
        raise ShopError(
            "recorded_together",
            f"{cut.piece} was recorded as cut together with {', '.join(event.targets)}.",
            "Undo it on the spool's own page, then here.",
        )
    return event


def _booked(bar: StockBar, cut: Cut) -> list[StockEvent]:
    """Return what the tap booked on the bar, if nothing was cut after it."""
    events = still_standing(bar)
    places = [n for n, e in enumerate(events) if e.kind == Kind.CUT and e.piece_id == cut.piece_id]
    if not places:
        raise ShopError("not_cut", f"{cut.piece} is not on the account of bar {bar}.", "Ask the foreman.")
    first = places[-1]
    later = [e for e in events[first + 1 :] if e.kind == Kind.CUT or (e.piece_id and e.kind in OF_A_CUT)]
    if later:
        newest = later[-1]
        if newest.kind != Kind.CUT:
            raise ShopError(
                "not_newest",
                f"{newest.piece} was cut wrong from bar {bar} after it: its steel can't come back.",
                "If this piece is wrong too, take it as a wrong cut; if it is good, leave it.",
            )
        raise ShopError(
            "not_newest", f"{newest.piece} was cut from bar {bar} after it.", "Undo the newest cut of the bar first."
        )
    if first and events[first - 1].kind == Kind.TRIMMED:
        first -= 1
    return [event for event in events[first:] if event.kind in OF_A_CUT]


def _take_drop_back(bar: StockBar, row: StockEvent, *, person: Person, key: str, at: datetime) -> None:
    drop_id = StockBar.objects.values_list("id", flat=True).get(cut_from=bar, tag=row.details["drop"])
    drop = lock_bars([drop_id])[drop_id]
    if drop.state != StockBar.State.IN_STOCK or drop.length_u != -row.length_u:
        raise ShopError(
            "drop_used", f"Drop {drop} of this bar is {drop.get_state_display()} already.", "Ask the foreman."
        )
    came = drop.events.get(kind=Kind.RECEIVED, details__from=bar.tag)
    put_back(came, drop, person=person, key=key, at=at)
    drop.state = StockBar.State.USED
    keep_bar(drop)


def _is_loaded(bar: StockBar) -> bool:
    """Tell whether a bar with nothing cut from it was put on the saw on purpose."""
    newest = bar.events.filter(kind__in=[Kind.LOADED, Kind.FREED, Kind.RESERVED]).order_by("-number").first()
    return newest is not None and newest.kind == Kind.LOADED
