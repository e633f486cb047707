"""A piece was cut wrong at the saw: its steel is booked as it really is, and the piece is planned again at once."""

from dataclasses import dataclass
from datetime import datetime

from cutlists.actions.bar_short import layout_of
from cutlists.actions.cut_piece import one_cut, start_on_saw, take_kerf
from cutlists.actions.plan_cuts import WHO, taken_meanwhile
from cutlists.demand import BarCuts, Supply
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.rest_of_plan import Rest, changed_at_saw, lock_rest, read_rest, write_rest
from cutlists.saving import serves
from cutlists.stockroom import Kind, book, keep_bar, put_back, rack_drop, still_standing, sub_key
from cutlists.units import to_units_down
from spools.actions.record_step import Tap, record_step
from spools.actions.wrong_cut import wrong_cut
from spools.errors import ShopError, invalid, not_your_role
from spools.flow.roles import say_roles
from spools.models import Event, Person, Piece
from spools.transactions import all_or_nothing, part_key

OPEN_BARS = frozenset({StockBar.State.RESERVED, StockBar.State.ON_SAW})


@dataclass(frozen=True, slots=True)
class _Wrong:
    """What a wrong cut took: off the bar, and how long the piece is that came of it (0: it goes into the bin)."""

    cut: Cut
    taken_u: int
    kept_u: int


def wrong_at_saw(
    *, cut_id: int, person: Person, key: str, at: datetime, reason: str, real_mm: float | None = None
) -> CutPlan:
    """Record a wrong cut and plan the piece again with the rest of its bar.

    ``real_mm`` is what the piece really measures: where it serves another open tie-in, or is worth keeping, it is
    racked under a tag of its own; otherwise it is scrap. Where the stock doesn't suffice, the piece waits for a plan.
    Raises ``ShopError``: not_your_role, not_found, invalid, withdrawn, taken_meanwhile, and what the steps refuse.
    """
    if not person.may(WHO):
        raise not_your_role("Wrong cut", say_roles(WHO))
    cut = one_cut(cut_id, person)
    if Event.objects.filter(key=key, spool_id=cut.piece.spool_id).exists():
        return cut.plan
    if cut.state == Cut.State.WITHDRAWN:
        raise ShopError("withdrawn", f"{cut.piece} was taken out of the plan.", "Look at the newest plan.")
    if not reason.strip():
        raise invalid({"reason": "Say why in a few words."}, "A reason is missing.")
    wrong = _look(cut, real_mm)
    rest = _rest(wrong)
    return _write(wrong, rest, layout_of(rest), person=person, key=key, at=at, reason=reason.strip(), real_mm=real_mm)


def _look(cut: Cut, real_mm: float | None) -> _Wrong:
    bar, real_u = cut.bar, to_units_down(real_mm) if real_mm is not None else None
    if real_u is not None and real_u <= 0:
        raise invalid({"real": "Type what the piece really measures."})
    taken_u = cut.length_u if real_u is None else real_u
    if cut.state == Cut.State.PLANNED or bar.state == StockBar.State.ON_SAW:
        there_u = bar.length_u + (cut.length_u if cut.state == Cut.State.DONE else 0)
        if taken_u > there_u:
            raise invalid({"real": "It can't be longer than what was left of the bar."})
    else:
        taken_u = min(taken_u, cut.length_u)  # the bar is finished: its drop holds what was not taken
    keep = real_u is not None and (taken_u >= cut.plan.keep_from_u or bool(serves(bar, taken_u, not_for=cut.piece)))
    return _Wrong(cut, taken_u, taken_u if keep else 0)


def _rest(wrong: _Wrong) -> Rest:
    cut = wrong.cut
    bar, plan = cut.bar, cut.plan
    if bar.state not in OPEN_BARS:
        return read_rest(plan, [], more=[cut.piece])
    if cut.state == Cut.State.DONE:
        left = bar.length_u + cut.length_u - wrong.taken_u
    else:
        trim = 0 if bar.is_opened else min(plan.trim_u, bar.length_u)
        left = max(0, bar.length_u - trim - wrong.taken_u)
        left -= min(plan.kerf_u, left)
    return read_rest(plan, [bar], more=[cut.piece], as_if={bar.id: Supply(bar, left, 0, trimmed=True)})


@all_or_nothing
def _write(
    wrong: _Wrong,
    rest: Rest,
    layout: list[BarCuts],
    *,
    person: Person,
    key: str,
    at: datetime,
    reason: str,
    real_mm: float | None,
) -> CutPlan:
    cut, piece = wrong.cut, wrong.cut.piece
    if cut.state == Cut.State.PLANNED:
        tap = Tap(targets=(piece.mark,))
        record_step(spool_id=piece.spool_id, step="cut", person=person, key=part_key(key, "c"), at=at, tap=tap)
    wrong_cut(spool_id=piece.spool_id, piece=piece.mark, person=person, key=key, at=at, reason=reason, real_mm=real_mm)
    layout = [_first(piece, laid) for laid in layout]
    bars = lock_rest(rest, layout)
    if Cut.objects.get(id=cut.id).state != cut.state:
        raise taken_meanwhile()
    bar = bars.get(cut.bar_id) or StockBar.objects.select_for_update(of=("self",)).get(id=cut.bar_id)
    _book(bar, wrong, person=person, key=key, at=at, reason=reason)
    cut.state, cut.done_at = Cut.State.WITHDRAWN, cut.done_at or at
    cut.save(update_fields=["state", "done_at"])
    write_rest(rest, layout, bars, person=person, key=key, at=at)
    changed_at_saw(rest.plan)
    return rest.plan


def _first(piece: Piece, laid: BarCuts) -> BarCuts:
    """Put the piece that is cut again in front on its bar: somebody waits for it."""
    return BarCuts(laid.bar, tuple(sorted(laid.pieces, key=lambda one: one.id != piece.id)))


def _book(bar: StockBar, wrong: _Wrong, *, person: Person, key: str, at: datetime, reason: str) -> None:
    cut = wrong.cut
    if cut.state == Cut.State.DONE:
        made = [e for e in still_standing(bar) if e.kind == Kind.CUT and e.piece_id == cut.piece_id]
        put_back(made[-1], bar, person=person, key=key, at=at)
        _take(bar, wrong, person=person, key=key, at=at, reason=reason)
        spare_u = cut.length_u - wrong.taken_u
        if bar.state not in OPEN_BARS and spare_u:
            key_of_spare = sub_key(key, "spare")
            book(bar, Kind.SCRAPPED, person=person, key=key_of_spare, at=at, length_u=-spare_u, reason=reason)
    else:
        start_on_saw(bar, cut, person=person, key=key, at=at)
        _take(bar, wrong, person=person, key=key, at=at, reason=reason)
        take_kerf(bar, cut, person=person, key=key, at=at)
    keep_bar(bar)


def _take(bar: StockBar, wrong: _Wrong, *, person: Person, key: str, at: datetime, reason: str) -> None:
    piece = wrong.cut.piece
    if wrong.kept_u:
        rack_drop(
            bar, wrong.kept_u, person=person, key=sub_key(key, "w"), at=at, piece=piece, reason=f"wrong cut: {reason}"
        )
        return
    book(
        bar,
        StockEvent.Kind.SCRAPPED,
        person=person,
        key=sub_key(key, "wrong"),
        at=at,
        length_u=-wrong.taken_u,
        piece=piece,
        reason=f"wrong cut: {reason}",
    )
