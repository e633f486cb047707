"""Record a step; with an acceptance goes the steel tag, if its five digits were typed: both are kept, or neither."""

from datetime import datetime

from spools.actions.bind_tag import bind_tag
from spools.actions.record_step import Tap, record_step
from spools.models import Person
from spools.recorded import Recorded
from spools.transactions import all_or_nothing, part_key


@all_or_nothing
def record_with_tag(
    *, spool_id: int, step: str, person: Person, key: str, at: datetime, tap: Tap, tag: str = ""
) -> Recorded:
    """Record a step, and bind the tag typed with an acceptance. Raises what ``record_step`` and ``bind_tag`` raise."""
    recorded = record_step(spool_id=spool_id, step=step, person=person, key=key, at=at, tap=tap)
    tag = tag.strip()
    if step == "accepted" and tag and recorded.spool.tag != tag:
        bind_tag(spool_id=spool_id, tag=tag, person=person, key=part_key(key, "t"), at=at)
    return recorded
