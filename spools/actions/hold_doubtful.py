"""Put on hold what was built from the readings of a jig that was out of check."""

from collections.abc import Sequence
from datetime import datetime

from spools.actions.hold_spool import hold_spool
from spools.flow.disputes import DOUBTFUL
from spools.models import JigCheck, Person
from spools.transactions import all_or_nothing, part_key


@all_or_nothing
def hold_doubtful(*, check: JigCheck, spool_ids: Sequence[int], person: Person, key: str, at: datetime) -> int:
    """Hold these spools for one failed check; returns how many. A repeated key holds nothing twice.

    Raises ``ShopError`` as ``hold_spool`` does; then none is held.
    """
    reason = f"{DOUBTFUL}: jig {check.jig} is out of check by {check.included_off_deg:+.2f} degrees"
    for spool_id in spool_ids:
        hold_spool(spool_id=spool_id, person=person, key=part_key(key, spool_id), at=at, reason=reason, owner="field")
    return len(spool_ids)
