"""Receive spools on site: delivered is for each spool, what did not come goes back."""

from collections.abc import Sequence
from datetime import datetime

from spools.actions.load_lines import Told, close_if_settled, open_load
from spools.actions.record_step import Tap, record_step
from spools.models import Load, Person
from spools.transactions import all_or_nothing, part_key

BY_ACCOUNT = Told()


@all_or_nothing
def deliver(
    *,
    load_id: int,
    spool_ids: Sequence[int],
    person: Person,
    key: str,
    at: datetime,
    receiver: str = "",
    last: bool = False,
    told: Told = BY_ACCOUNT,
) -> Load:
    """Record these spools of a site load as delivered; ``last`` takes the rest off the load, back to the yard."""
    load = open_load(load_id, person, Load.Kind.SITE)
    for line in load.lines.filter(spool_id__in=set(spool_ids), settled="").order_by("spool_id"):
        tap = Tap(load_id=load.id, reason=receiver.strip(), done_at=told.done_at, told_by=told.by)
        record_step(
            spool_id=line.spool_id, step="delivered", person=person, key=part_key(key, line.spool_id), at=at, tap=tap
        )
        line.settled = "delivered"
        line.save(update_fields=["settled"])
    if last:
        load.lines.filter(settled="").update(settled="taken off")
    return close_if_settled(load, at)
