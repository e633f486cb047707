"""The link of a load: opened for longer, or made anew so that the one before is dead."""

from datetime import datetime, timedelta

from spools.actions.load_lines import open_load
from spools.models import Load, Person
from spools.transactions import all_or_nothing


@all_or_nothing
def renew_link(*, load_id: int, person: Person, at: datetime, new: bool = False) -> Load:
    """Open a load's link for the shop's number of days from now; a new one makes the printed ones dead."""
    load = open_load(load_id, person)
    load.link_until = at + timedelta(days=load.shop.link_days)
    if new:
        load.link_version += 1
    load.save(update_fields=["link_until", "link_version"])
    return load


@all_or_nothing
def end_link(*, load_id: int, person: Person, at: datetime) -> Load:
    """Close a load's link now."""
    load = open_load(load_id, person)
    load.link_until = at
    load.save(update_fields=["link_until"])
    return load
