"""Put a spool on hold: forward steps stop, the clock doesn't."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from spools.actions.do_deed import do_deed
from spools.models import Person
from spools.recorded import Recorded


def hold_spool(
    *,
    spool_id: int,
    person: Person,
    key: str,
    at: datetime,
    reason: str,
    owner: str = "",
    as_shop: bool = False,
    more: Mapping[str, Any] | None = None,
) -> Recorded:
    """Hold a spool for a reason; ``owner`` is whose move it is, the holder when empty; ``more`` is kept with it."""
    details = {"owner": owner.strip() or person.short_name, **(more or {})}
    return do_deed(
        code="held",
        spool_id=spool_id,
        person=person,
        key=key,
        at=at,
        reason=reason,
        prepare=lambda spool: {"details": details},
        as_shop=as_shop,
    )
