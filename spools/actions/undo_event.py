"""Undo a mistake by a new event that names it; nothing is ever deleted."""

from datetime import datetime, timedelta

from spools.actions.bind_tag import must_hang_nowhere_else
from spools.actions.withdraw import Withdrawals
from spools.errors import ShopError, invalid, not_found
from spools.flow.roles import Role
from spools.flow.routes import piece_of
from spools.flow.steps import BY_CODE, ENDING, dependents, say
from spools.ledger import News, append, lock_spool
from spools.models import Event, Person, Spool
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, fingerprint

OWN_UNDO = timedelta(minutes=10)


GONE_OUT = frozenset({"at_coating", "back", "delivered"})


@all_or_nothing
def undo_event(
    *, spool_id: int, number: int, person: Person, key: str, at: datetime, reason: str = "", also: bool = False
) -> Recorded:
    """Undo one event of a spool; ``also`` withdraws with it what has since been done on top of it, and nothing else.

    Its own author may within ten minutes; after that, or for others' events, the foreman with a reason.
    Raises ``ShopError``: not_found, too_late, already_undone, depends (naming what stands on it), gone_out,
    not_undoable, tag_taken.
    """
    reason = reason.strip()
    mark = fingerprint("undone", spool_id, number, reason, *(["also"] if also else []))
    spool, earlier = lock_spool(spool_id=spool_id, person=person, key=key, fingerprint=mark)
    if earlier:
        return Recorded(earlier, spool, repeated=True)
    event = spool.events.filter(number=number).first()
    if event is None:
        raise not_found("event of that number")
    _may_undo(event, person, at, reason)
    on_top = standing_on(event, spool)
    _may_withdraw(on_top, event, spool, person=person, at=at, reason=reason, also=also)
    must_hang_nowhere_else(spool, _tag_after(event, spool))
    news = News(
        code="undone",
        person=person,
        key=key,
        fingerprint=mark,
        at=at,
        undoes=event,
        withdraws=on_top,
        reason=reason,
        details={"undoes_number": event.number, "undoes_code": event.code},
    )
    return Recorded(append(spool, news), spool)


def _tag_after(event: Event, spool: Spool) -> str:
    """Return the tag that hangs on the spool again once an event is undone; empty where the event moves none."""
    if event.code != "tagged":
        return spool.tag if event.code in {*ENDING, "delivered"} else ""
    before = spool.events.filter(code="tagged", undone_by=None).exclude(id=event.id).order_by("-number").first()
    return str(before.details["tag"]) if before else ""


def _may_undo(event: Event, person: Person, at: datetime, reason: str) -> None:
    if event.code in {"measured", "undone", "heat_corrected"}:
        raise ShopError(
            "not_undoable", f"“{say(event.code)}” can't be undone.", "Take a new reading, or record the step again."
        )
    if Event.objects.filter(undoes=event).exists():
        raise ShopError("already_undone", "It is undone already.", "Nothing left to undo.")
    own = event.person_id == person.id and at - event.received_at <= OWN_UNDO
    if own:
        return
    if not person.may(frozenset({Role.FOREMAN})):
        raise ShopError(
            "too_late", "Only your own taps of the last 10 minutes can be undone here.", "Ask the foreman.", status=403
        )
    if not reason:
        raise invalid({"reason": "Say why in a few words."}, "A reason is missing.")


def standing_on(event: Event, spool: Spool) -> Withdrawals:
    """Return what has been done on top of a step since: pairs of step code and the targets that fall with it."""
    if event.code not in BY_CODE:
        return ()
    standing, pieces = spool.the_standing, {piece_of(t) for t in event.targets}
    found = []
    for code in dependents(event.code):
        done = standing.done.get(code, ())
        falls = tuple(t for t in done if BY_CODE[code].on == "spool" or pieces == {""} or piece_of(t) in pieces)
        if falls:
            found.append((code, falls))
    return tuple(found)


def _may_withdraw(
    on_top: Withdrawals, event: Event, spool: Spool, *, person: Person, at: datetime, reason: str, also: bool
) -> None:
    """Refuse, ask, or let what stands on an event fall with it: everybody's taps need the foreman and a reason."""
    if not on_top:
        return
    codes = [code for code, _ in on_top]
    out = [code for code in codes if code in GONE_OUT]
    if out:
        raise ShopError(
            "gone_out",
            f"It has since been {say(out[0])}.",
            "Count it back, or take it off its load, before anything under it is undone.",
        )
    if not also:
        raise ShopError(
            "depends",
            f"It has since been {_and([say(code) for code in codes])}.",
            "Undoing it takes that back too, and nothing else. Say yes, or leave it as it is.",
            facts={"standing_on": codes, "number": event.number, "yes": "Undo that too", "no": "Leave it"},
        )
    falls = dict(on_top)
    for other in spool.events.filter(code__in=codes, undone_by=None):
        if set(other.targets) & set(falls[other.code]):
            _may_undo(other, person, at, reason)


def _and(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
