"""Take one line's count back in place: a slip at the truck, within the ten minutes of everybody's own undo."""

from datetime import datetime
from typing import Any

from spools.actions.load_lines import close_if_settled, one_line, open_load
from spools.actions.undo_event import undo_event
from spools.errors import ShopError
from spools.models import Load, Person
from spools.transactions import all_or_nothing

CODE_OF = {"back": "back", "delivered": "delivered", "missing": "missing"}


@all_or_nothing
def uncount(*, load_id: int, spool_id: int, person: Person, key: str, at: datetime, reason: str = "") -> Load:
    """Undo what a line was settled with; the line is open again.

    Raises ``ShopError``: not_found, not_counted, depends (it went on since), too_late (ask the foreman).
    """
    load = open_load(load_id, person)
    line = one_line(load, spool_id)
    if line.spool.events.filter(key=key).exists():
        return load
    if line.settled == "taken off":
        if line.spool.load_lines.filter(settled="").exists():
            raise ShopError("depends", f"{line.spool.label} is on another load by now.", "Take it off that one first.")
    elif line.settled not in CODE_OF or (line.note and line.settled == "back"):
        raise ShopError(
            "not_counted", f"{line.spool.label}: nothing to take back here.", "The foreman sorts it out on its page."
        )
    else:
        event = line.spool.events.filter(code=CODE_OF[line.settled], undone_by=None).order_by("-number").first()
        if event is not None:
            call: dict[str, Any] = {"spool_id": spool_id, "person": person, "key": key, "at": at}
            undo_event(**call, number=event.number, reason=reason)
    line.settled, line.note = "", ""
    line.save(update_fields=["settled", "note"])
    return close_if_settled(load, at)
