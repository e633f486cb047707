"""A load and its lines as the deeds of counting need them: locked, the person's own, and closed with the last line."""

from dataclasses import dataclass
from datetime import datetime

from spools.actions.load_truck import WHO
from spools.errors import ShopError, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Load, LoadLine, Person


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Who counted, where it wasn't the person of the account: the name typed at the link; and when it was tapped."""

    by: str = ""
    done_at: datetime | None = None

    @property
    def details(self) -> dict[str, str]:
        """What the event keeps of it."""
        return {"told_by": self.by} if self.by else {}


def open_load(load_id: int, person: Person, kind: str = "") -> Load:
    """Return a locked load. Raises ``ShopError``: not_your_role, not_found."""
    if not person.may(WHO):
        raise not_your_role("Count a load", say_roles(WHO))
    found = Load.objects.select_for_update(of=("self",)).for_person(person).filter(id=load_id)
    load = (found.filter(kind=kind) if kind else found).first()
    if load is None:
        raise not_found("load of that number")
    return load


def one_line(load: Load, spool_id: int) -> LoadLine:
    """Return the line of a spool that has left. Raises ``ShopError``: not_found, not_left."""
    line = load.lines.select_related("spool__tie_in").filter(spool_id=spool_id).first()
    if line is None:
        raise not_found("line of that spool on this load")
    if line.left_at is None and not line.settled:
        raise ShopError("not_left", f"{line.spool.label} waits for trip {line.trip}.", "Send that trip first.")
    return line


def take_off_as_misfit(line: LoadLine, load: Load, at: datetime) -> Load:
    """Settle the line of a spool that doesn't fit: it is off the truck, and off the load."""
    if not line.settled:
        line.settled, line.note = "taken off", "does not fit"
        line.save(update_fields=["settled", "note"])
    return close_if_settled(load, at)


def close_if_settled(load: Load, at: datetime) -> Load:
    """Close a load once every line is accounted for, and open it again where one is taken back."""
    is_open = load.lines.filter(settled="").exists()
    if load.closed_at is None and not is_open:
        load.closed_at = at
        load.save(update_fields=["closed_at"])
    elif load.closed_at is not None and is_open:
        load.closed_at = None
        load.save(update_fields=["closed_at"])
    return load
