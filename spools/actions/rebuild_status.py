"""Work every projection out again from the events, and say where the stored one differed."""

import json
from collections.abc import Iterator
from dataclasses import dataclass

from django.db import transaction

from spools.flow.status import Standing, advance, fold
from spools.ledger import PROJECTED, happened, project, project_pieces
from spools.models import Event, Spool


@dataclass(frozen=True, slots=True)
class Difference:
    """A stored projection that its events don't lead to."""

    spool_id: int
    column: str
    stored: str
    from_events: str


def rebuild_status(*, write: bool, shop_id: int | None = None) -> list[Difference]:
    """Go through every spool's events again; with ``write`` the columns are put right. Returns what differed."""
    spools = Spool.objects.order_by("id")
    if shop_id is not None:
        spools = spools.filter(shop_id=shop_id)
    return [
        difference
        for spool_id in spools.values_list("id", flat=True)
        for difference in rebuild_spool(spool_id, write=write)
    ]


@transaction.atomic
def rebuild_spool(spool_id: int, *, write: bool) -> list[Difference]:
    """Go through one spool's events again, with the spool locked so that no tap comes between."""
    spool = Spool.objects.select_for_update(of=("self",)).get(id=spool_id)
    stored = {name: getattr(spool, name) for name in PROJECTED}
    events = list(spool.events.order_by("number"))
    if not events:
        return [Difference(spool_id, "events", "none", "at least the one that released it")]
    standing = _walk(spool, events)
    found = [
        Difference(spool_id, name, said(stored[name]), said(getattr(spool, name)))
        for name in PROJECTED
        if stored[name] != getattr(spool, name)
    ]
    found += _pieces_that_differ(spool, standing)
    if write and found:
        spool.save(update_fields=PROJECTED)
        spool.pieces.update(is_cut=False, heat=None)
        project_pieces(spool, Standing(), standing)
    return found


def _walk(spool: Spool, events: list[Event]) -> Standing:
    """Move an empty projection through a history, as the ledger moved it event by event; return the last standing."""
    route, standing = spool.the_route, Standing()
    spool.status, spool.status_since = "", None
    history = [happened(event) for event in events]
    for count, (event, news) in enumerate(zip(events, history, strict=True), start=1):
        standing = advance(standing, news, route) if news.undoes is None else fold(history[:count], route)
        project(spool, standing, route, last=event)
    return standing


def _pieces_that_differ(spool: Spool, standing: Standing) -> Iterator[Difference]:
    cut = set(standing.done.get("cut", ()))
    for piece in spool.pieces.all():
        stored = (piece.is_cut, piece.heat_id)
        wanted = (piece.mark in cut, standing.heats.get(piece.mark) if piece.mark in cut else None)
        if stored != wanted:
            yield Difference(spool.id, f"piece {piece.mark}", _say(*stored), _say(*wanted))


def _say(is_cut: bool, heat_id: int | None) -> str:  # noqa: FBT001  one piece's two columns, as they stand
    return f"{'cut' if is_cut else 'not cut'}, {f'heat {heat_id}' if heat_id else 'no heat'}"


def said(value: object) -> str:
    """Return a column's value as text, a JSON value with its keys in order (databases keep them in their own)."""
    return json.dumps(value, sort_keys=True) if isinstance(value, dict) else str(value)
