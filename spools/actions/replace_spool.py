"""A spool that is lost or past saving is built again from the same reading; never two live builds of one tie-in."""

from datetime import datetime
from typing import Any

from spools.actions.record_step import record_step
from spools.actions.release_spool import WHO, release_judged
from spools.actions.rush_spool import rush_spool
from spools.actions.scrap_spool import scrap_spool, supersede_spool
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import LoadLine, Person, Reading, Spool
from spools.stored_readings import judge_stored
from spools.transactions import all_or_nothing, part_key


@all_or_nothing
def start_replacement(
    *, spool_id: int, person: Person, key: str, at: datetime, reason: str = "", rush: bool = False
) -> Spool:
    """End a build and begin the next from the tie-in's newest reading; start of clock and due time are inherited.

    Raises ``ShopError``: not_your_role, not_found, ended, not_buildable.
    """
    if not person.may(WHO):
        raise not_your_role("Start a replacement", say_roles(WHO))
    old = _locked(spool_id, person)
    earlier = Spool.objects.filter(replaces=old, events__key=part_key(key, "measured")).first()
    if earlier:
        return earlier
    if not old.live:
        raise ShopError("ended", f"{old.label} is no longer the live build.", "Open the newest build of that mark.")
    reading = Reading.objects.select_related("tie_in__job__shop", "set_points__jig").get(
        id=old.tie_in.current_reading_id or old.reading_id
    )
    why = reason.strip()[:200] or _why(old)
    supersede_spool(
        spool_id=old.id, person=person, key=part_key(key, "superseded"), at=at, reason=f"built again: {why}"
    )
    judged = judge_stored(reading)
    call: dict[str, Any] = {"person": person, "at": at}
    new = release_judged(
        reading=reading, judged=judged, key=part_key(key, "measured"), reason=why, replaces=old, **call
    )
    if rush:
        rush_spool(spool_id=new.id, key=part_key(key, "rushed"), reason=f"replaces {old.label}: {why}"[:300], **call)
        new.refresh_from_db()
    return new


@all_or_nothing
def use_the_old_one(*, spool_id: int, person: Person, key: str, at: datetime) -> Spool:
    """Let the lost spool that turned up be the live build again; its replacement is scrapped, whatever it has reached.

    Raises ``ShopError``: not_your_role, not_found, not_found_again, delivered.
    """
    if not person.may(WHO):
        raise not_your_role("Use the old one", say_roles(WHO))
    old = _locked(spool_id, person)
    if old.live and old.events.filter(key=part_key(key, "live")).exists():
        return old
    ended = old.events.filter(code="superseded", undone_by=None).order_by("-number").first()
    line = LoadLine.objects.filter(spool=old, settled="spare").order_by("-id").first()
    if old.live or ended is None or line is None:
        raise ShopError("not_found_again", f"{old.label} is not a spare in the yard.", "Count it back first.")
    new = Spool.objects.filter(tie_in=old.tie_in, live=True).select_related("tie_in").first()
    call: dict[str, Any] = {"person": person, "at": at}
    if new is not None and new.delivered_at:
        raise ShopError("delivered", f"{new.label} is on site already.", "The old one stays a spare.")
    if new is not None:
        scrap_spool(spool_id=new.id, key=part_key(key, "scrapped"), reason=f"{old.label} turned up again", **call)
    why = "turned up again; its replacement is scrapped"
    undo_event(spool_id=old.id, number=ended.number, key=part_key(key, "live"), reason=why, **call)
    record_step(spool_id=old.id, step="back", key=part_key(key, "back"), **call)
    line.settled, line.note = "back", ""
    line.save(update_fields=["settled", "note"])
    old.refresh_from_db()
    return old


def _locked(spool_id: int, person: Person) -> Spool:
    found = (
        Spool.objects.select_for_update(of=("self",))
        .for_person(person)
        .select_related("tie_in__job__shop")
        .filter(id=spool_id)
        .first()
    )
    if found is None:
        raise not_found("spool of that number")
    return found


def _why(old: Spool) -> str:
    missing = old.events.filter(code__in=["missing", "damaged"], undone_by=None).order_by("-number").first()
    return f"{missing.reason}" if missing else "not to be used"
