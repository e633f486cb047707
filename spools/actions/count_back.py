"""Count spools back from the galvanizer, line by line; a partial return is normal."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.hold_spool import hold_spool
from spools.actions.load_lines import Told, close_if_settled, one_line, open_load
from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError, invalid
from spools.models import Load, LoadLine, Person
from spools.transactions import all_or_nothing, part_key

BY_ACCOUNT = Told()
DAMAGES = {
    "bent": "bent or dented",
    "bare": "bare spots",
    "seat": "runs or lumps in a gasket seat",
    "blocked": "a groove, thread or hole blocked with zinc",
    "other": "damaged",
}
COATING_DAMAGES = frozenset({"bare", "seat", "blocked"})


@all_or_nothing
def count_back(
    *, load_id: int, spool_ids: Sequence[int], person: Person, key: str, at: datetime, told: Told = BY_ACCOUNT
) -> Load:
    """Count these spools of a coating load as back; the load closes with its last line."""
    load = open_load(load_id, person, Load.Kind.COATING)
    for line in load.lines.filter(spool_id__in=set(spool_ids), settled="").order_by("spool_id"):
        _back(line, person=person, key=part_key(key, line.spool_id), at=at, told=told)
    return close_if_settled(load, at)


@all_or_nothing
def report_missing(
    *, load_id: int, spool_id: int, person: Person, key: str, at: datetime, reason: str, told: Told = BY_ACCOUNT
) -> Load:
    """Say that a spool did not come back; it stays on the books until it is found or replaced."""
    load = open_load(load_id, person, Load.Kind.COATING)
    line = one_line(load, spool_id)
    if line.settled == "missing":
        return load
    if line.settled:
        raise _settled(line)
    details = {"load": load.number, **told.details}
    call: dict[str, Any] = {"spool_id": spool_id, "person": person, "key": key, "at": at}
    do_deed(code="missing", **call, reason=reason, prepare=lambda _: {"load_id": load.id, "details": details})
    line.settled, line.note = "missing", reason.strip()[:120]
    line.save(update_fields=["settled", "note"])
    return close_if_settled(load, at)


@all_or_nothing
def report_damaged(
    *,
    load_id: int,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    how: str,
    note: str = "",
    told: Told = BY_ACCOUNT,
) -> Load:
    """Count a spool as it is: here, but damaged. It goes on hold until the foreman says what becomes of it."""
    if how not in DAMAGES:
        raise invalid({"how": f"Say how: {', '.join(DAMAGES.values())}."}, "How is it damaged?")
    load = open_load(load_id, person)
    line = one_line(load, spool_id)
    words = f"{DAMAGES[how]}; {note.strip()}" if note.strip() else DAMAGES[how]
    if line.note == words[:120]:
        return load
    if not line.settled and load.kind == Load.Kind.COATING:
        _back(line, person=person, key=part_key(key, "back"), at=at, told=told)
    cause = "coating" if how in COATING_DAMAGES else "transport"
    details = {"how": how, "cause": cause, **told.details}
    call: dict[str, Any] = {"spool_id": spool_id, "person": person, "at": at}
    prepared = {"load_id": load.id, "details": details}
    do_deed(code="damaged", **call, key=key, reason=words, prepare=lambda _: prepared)
    hold_spool(**call, key=part_key(key, "held"), reason=f"damaged: {words}"[:300], owner="foreman", as_shop=True)
    line.note = words[:120]
    if load.kind == Load.Kind.SITE and not line.settled:
        line.settled = "taken off"
    line.save(update_fields=["note", "settled"])
    return close_if_settled(load, at)


def _back(line: LoadLine, *, person: Person, key: str, at: datetime, told: Told) -> None:
    tap = Tap(done_at=told.done_at, told_by=told.by)
    record_step(spool_id=line.spool_id, step="back", person=person, key=key, at=at, tap=tap)
    line.settled, line.note = "back", ""
    line.save(update_fields=["settled", "note"])


def _settled(line: LoadLine) -> ShopError:
    return ShopError("settled", f"{line.spool.label} is written down as {line.settled}.", "Take that back first.")
