"""A spool on the truck doesn't fit where it is to go: it comes off the load and waits for a new reading."""

from datetime import datetime
from typing import Any

from spools.actions.load_lines import Told, one_line, open_load, take_off_as_misfit
from spools.actions.report_misfit import report_misfit
from spools.models import Load, Person
from spools.transactions import all_or_nothing

BY_ACCOUNT = Told()


@all_or_nothing
def misfit_on_load(
    *,
    load_id: int,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    how: str,
    reason: str = "",
    told: Told = BY_ACCOUNT,
) -> Load:
    """Say how a spool of a site load doesn't fit, in the hole; its line is settled as taken off."""
    load = open_load(load_id, person, Load.Kind.SITE)
    line = one_line(load, spool_id)
    call: dict[str, Any] = {"spool_id": spool_id, "person": person, "key": key, "at": at}
    report_misfit(**call, how=how, reason=reason, told_by=told.by)
    return take_off_as_misfit(line, load, at)
