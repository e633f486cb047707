"""A spool that was missing turns up: counted back where nothing replaced it, a spare where something did."""

from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.actions.load_lines import Told, close_if_settled, one_line, open_load
from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError
from spools.models import Load, Person
from spools.transactions import all_or_nothing, part_key

BY_ACCOUNT = Told()


@all_or_nothing
def turn_up(*, load_id: int, spool_id: int, person: Person, key: str, at: datetime, told: Told = BY_ACCOUNT) -> Load:
    """Say that a missing spool is here after all. Raises ``ShopError``: not_found, not_missing."""
    load = open_load(load_id, person, Load.Kind.COATING)
    line = one_line(load, spool_id)
    if line.settled in {"back", "spare"} and line.spool.events.filter(key=key).exists():
        return load
    if line.settled != "missing":
        raise ShopError("not_missing", f"{line.spool.label} isn't missing.", "Count it back like the others.")
    spare = not line.spool.live
    details = {"load": load.number, "spare": spare, **told.details}
    prepared = {"load_id": load.id, "details": details}
    call: dict[str, Any] = {"spool_id": spool_id, "person": person, "at": at}
    do_deed(code="turned_up", **call, key=key, prepare=lambda _: prepared, even_ended=True)
    if not spare:
        tap = Tap(done_at=told.done_at, told_by=told.by)
        record_step(step="back", **call, key=part_key(key, "back"), tap=tap)
    line.settled, line.note = ("spare" if spare else "back"), ""
    line.save(update_fields=["settled", "note"])
    return close_if_settled(load, at)
