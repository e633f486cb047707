"""A line that is not here now: it comes with a later truck, or it never was on this one."""

from datetime import datetime

from spools.actions.load_lines import close_if_settled, one_line, open_load
from spools.models import Load, Person
from spools.transactions import all_or_nothing

LATER = "comes later"


@all_or_nothing
def leave_for_later(*, load_id: int, spool_id: int, person: Person) -> Load:
    """Mark a line that is still out as coming later, so that "all the others" leaves it alone."""
    load = open_load(load_id, person, Load.Kind.COATING)
    line = one_line(load, spool_id)
    if not line.settled and line.note != LATER:
        line.note = LATER
        line.save(update_fields=["note"])
    return load


@all_or_nothing
def take_off(*, load_id: int, spool_id: int, person: Person, at: datetime) -> Load:
    """Take a spool off a site load: it was never on the truck, or goes back to the yard."""
    load = open_load(load_id, person, Load.Kind.SITE)
    line = one_line(load, spool_id)
    if not line.settled:
        line.settled, line.note = "taken off", "not on the truck"
        line.save(update_fields=["settled", "note"])
    return close_if_settled(load, at)
