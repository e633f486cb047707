"""The only writer of stock events: each change of a bar's length is one row, and the bar's length their sum.

Locks are always taken in this order: spool, bars by id, plan, shop.
"""

from collections.abc import Sequence
from datetime import datetime
from hashlib import sha256
from typing import Any

from django.db.models import Max
from django.db.models.functions import Length

from cutlists.models import StockBar, StockEvent
from spools.models import Person, Piece, Shop

Kind = StockEvent.Kind
OFF_THE_END = frozenset({Kind.TRIMMED, Kind.CUT, Kind.KERF})
OFF_THE_END_WITH_A_PIECE = frozenset({Kind.SCRAPPED, Kind.DROPPED})  # a piece that was cut wrong
PROJECTED = ["length_u", "used_u", "state", "heat", "rack", "last_number"]
LONGEST_KEY = 80


def sub_key(key: str, *parts: object) -> str:
    """Return the key of one part of a deed; where it would be too long to store, its digest."""
    text = ":".join((key, *map(str, parts)))
    return text if len(text) <= LONGEST_KEY else sha256(text.encode()).hexdigest()


def book(
    bar: StockBar,
    kind: Kind,
    *,
    person: Person,
    key: str,
    at: datetime,
    length_u: int = 0,
    piece: Piece | None = None,
    reason: str = "",
    details: dict[str, Any] | None = None,
) -> StockEvent:
    """Write one event of a locked bar and move its length (the caller keeps the bar: ``keep_bar``)."""
    bar.last_number += 1
    event = StockEvent(
        bar=bar,
        number=bar.last_number,
        kind=kind,
        length_u=length_u,
        person=person,
        at=at,
        key=key,
        reason=reason[:200],
        piece=piece,
        details=details or {},
    )
    event.save(force_insert=True)
    bar.length_u += length_u
    if kind in OFF_THE_END or (piece is not None and kind in OFF_THE_END_WITH_A_PIECE):
        bar.used_u -= length_u
    return event


def put_back(event: StockEvent, bar: StockBar, *, person: Person, key: str, at: datetime) -> StockEvent:
    """Book the opposite of one event of a locked bar, under the same kind."""
    return book(
        bar,
        Kind(event.kind),
        person=person,
        key=sub_key(key, "back", event.id),
        at=at,
        length_u=-event.length_u,
        piece=event.piece,
        details={"undoes": event.number},
    )


def keep_bar(bar: StockBar) -> None:
    """Save what the events of a bar have changed."""
    bar.save(update_fields=PROJECTED)


def still_standing(bar: StockBar) -> list[StockEvent]:
    """Return the events of a bar that nothing has put back, oldest first."""
    events = list(bar.events.order_by("number").select_related("piece"))
    undone = {event.details["undoes"] for event in events if "undoes" in event.details}
    return [event for event in events if event.number not in undone and "undoes" not in event.details]


def lock_bars(ids: Sequence[int]) -> dict[int, StockBar]:
    """Lock bars in the order of their ids."""
    return {bar.id: bar for bar in StockBar.objects.select_for_update(of=("self",)).filter(id__in=ids).order_by("id")}


def next_tags(shop_id: int, count: int = 1, *, drop: bool) -> list[str]:
    """Return the next free tags, B0001 on for bars, D0001 on for drops; the shop's row stays locked meanwhile."""
    Shop.objects.select_for_update().get(id=shop_id)
    letter = "D" if drop else "B"
    tags = StockBar.objects.filter(shop_id=shop_id, tag__startswith=letter)
    longest = tags.aggregate(n=Max(Length("tag")))["n"]
    newest = tags.annotate(n=Length("tag")).filter(n=longest).aggregate(tag=Max("tag"))["tag"]
    first = int(newest[1:]) + 1 if newest else 1
    return [f"{letter}{number:04d}" for number in range(first, first + count)]


def rack_drop(
    bar: StockBar,
    length_u: int,
    *,
    person: Person,
    key: str,
    at: datetime,
    piece: Piece | None = None,
    reason: str = "",
) -> StockBar:
    """Take a length off a locked bar and rack it under a tag of its own; the heat goes with it."""
    (tag,) = next_tags(bar.shop_id, drop=True)
    drop = StockBar.objects.create(
        shop_id=bar.shop_id,
        tag=tag,
        nps=bar.nps,
        schedule=bar.schedule,
        material=bar.material,
        heat_id=bar.heat_id,
        is_drop=True,
        cut_from=bar,
        nominal_u=0,
        received_u=length_u,
        length_u=0,
        rack=bar.rack,
    )
    told = {"drop": drop.tag}
    book(
        bar,
        Kind.DROPPED,
        person=person,
        key=sub_key(key, "dropped"),
        at=at,
        length_u=-length_u,
        piece=piece,
        reason=reason,
        details=told,
    )
    came = {"from": bar.tag}
    book(
        drop,
        Kind.RECEIVED,
        person=person,
        key=sub_key(key, "drop"),
        at=at,
        length_u=length_u,
        piece=piece,
        reason=reason,
        details=came,
    )
    keep_bar(drop)
    return drop
