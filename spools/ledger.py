"""The only writer of events: locks the spool, knows repeated keys, numbers the event and moves the projections."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from spools.errors import key_reused, not_found
from spools.flow.routes import Route
from spools.flow.status import Happened, Standing, advance, as_stored, fold, next_step, status
from spools.kept_sql import locked_spool, write
from spools.models import Event, Person, Piece, Spool

PROJECTED = [
    "live",
    "standing",
    "status",
    "next_step",
    "status_since",
    "hold_count",
    "rush",
    "bench_id",
    "tag",
    "accepted_at",
    "coating_out_at",
    "coating_back_at",
    "delivered_at",
    "last_number",
    "last_event_at",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """One thing to be recorded, before it has a number."""

    code: str
    person: Person
    key: str
    fingerprint: str
    at: datetime
    done_at: datetime | None = None
    targets: tuple[str, ...] = ()
    withdraws: tuple[tuple[str, tuple[str, ...]], ...] = ()
    bench_id: int | None = None
    load_id: int | None = None
    undoes: Event | None = None
    reason: str = ""
    entered_later: bool = False
    details: dict[str, Any] = field(default_factory=dict)


def lock_spool(*, spool_id: int, person: Person, key: str, fingerprint: str) -> tuple[Spool, Event | None]:
    """Lock one spool of the person's shop; return it and the event that this key already stands for, if any.

    Raises ``ShopError`` ``not_found`` for another shop's spool and ``key_reused`` for a key with other content.
    """
    spool = locked_spool(spool_id=spool_id, shop_id=person.the_shop_id, key=key)
    if spool is None:
        raise not_found("spool of that number")
    seen = vars(spool)
    answered_by: int | None = seen["answered_by"]
    if answered_by is None and (seen["newest"] or 0) != spool.last_number:
        # PostgreSQL: whoever waited for the lock has the spool as it is now, but the events as they were before.
        answered_by = Event.objects.filter(key=key).values_list("id", flat=True).first()
    earlier = Event.objects.get(id=answered_by) if answered_by else None
    if earlier and earlier.fingerprint != fingerprint:
        raise key_reused()
    return spool, earlier


def append(spool: Spool, news: News) -> Event:
    """Write one event of a locked spool and move its projections with it."""
    received_at = max(news.at, spool.last_event_at) if spool.last_event_at else news.at
    event = Event(
        spool=spool,
        number=spool.last_number + 1,
        code=news.code,
        targets=list(news.targets),
        withdraws=[[code, list(targets)] for code, targets in news.withdraws],
        person=news.person,
        bench_id=news.bench_id,
        load_id=news.load_id,
        done_at=min(news.done_at or received_at, received_at),
        received_at=received_at,
        key=news.key,
        fingerprint=news.fingerprint,
        undoes=news.undoes,
        reason=news.reason,
        entered_later=news.entered_later,
        details=news.details,
    )
    before = spool.the_standing
    route = spool.the_route
    after = advance(before, happened(event), route) if news.undoes is None else standing_of(spool, route, new=event)
    project(spool, after, route, last=event)
    write(event, spool, PROJECTED)
    project_pieces(spool, before, after)
    return event


def happened(event: Event) -> Happened:
    """Return an event as the fold reads it."""
    return Happened(
        number=event.number,
        code=event.code,
        at=event.done_at,
        targets=tuple(event.targets),
        withdraws=tuple((code, tuple(targets)) for code, targets in event.withdraws),
        undoes=event.details.get("undoes_number") if event.undoes_id else None,
        person=str(event.person_id),
        reason=event.reason,
        owner=event.details.get("owner", ""),
        refers_to=event.details.get("hold"),
        bench=event.bench_id,
        tag=event.details.get("tag", ""),
        heats=tuple((mark, heat) for mark, heat in event.details.get("heats", {}).items()),
    )


def standing_of(spool: Spool, route: Route, *, new: Event | None = None) -> Standing:
    """Return the standing that all events of a spool lead to, and a new one that is not written yet."""
    events = [*spool.events.order_by("number"), *([new] if new else [])]
    return fold(map(happened, events), route)


def project(spool: Spool, standing: Standing, route: Route, *, last: Event) -> None:
    """Set a spool's projected columns from its standing (not saved)."""
    word = status(standing, route)
    if word != spool.status or spool.status_since is None:
        spool.status_since = last.done_at
    spool.standing = as_stored(standing)
    spool.status = word
    spool.next_step = "" if standing.ended else next_step(standing, route)
    spool.live = not standing.ended
    spool.hold_count = len(standing.holds)
    spool.rush = standing.rush
    spool.bench_id = standing.bench
    spool.tag = standing.tag
    spool.accepted_at = _moment(standing, "accepted")
    spool.coating_out_at = _moment(standing, "at_coating")
    spool.coating_back_at = _moment(standing, "back")
    spool.delivered_at = _moment(standing, "delivered")
    spool.last_number = last.number
    spool.last_event_at = last.received_at


def project_pieces(spool: Spool, before: Standing, after: Standing) -> None:
    """Set which pieces are cut and from which heat, where that changed."""
    was, now = set(before.done.get("cut", ())), set(after.done.get("cut", ()))
    if was == now and before.heats == after.heats:
        return
    if was - now:
        Piece.objects.filter(spool=spool, mark__in=was - now).update(is_cut=False, heat=None)
    by_heat: dict[int | None, list[str]] = {}
    for mark in now:
        if mark not in was or before.heats.get(mark) != after.heats.get(mark):
            by_heat.setdefault(after.heats.get(mark), []).append(mark)
    for heat, marks in by_heat.items():
        Piece.objects.filter(spool=spool, mark__in=marks).update(is_cut=True, heat_id=heat)


def _moment(standing: Standing, code: str) -> datetime | None:
    reached = standing.reached.get(code)
    return datetime.fromisoformat(reached) if reached else None
