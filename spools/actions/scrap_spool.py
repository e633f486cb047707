"""End a build: scrapped for a reason, or superseded by a newer one. Its clock start passes to what replaces it."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.models import Person
from spools.recorded import Recorded


def scrap_spool(*, spool_id: int, person: Person, key: str, at: datetime, reason: str) -> Recorded:
    """Scrap a build; ``release_spool`` makes the next one."""
    return do_deed(code="scrapped", spool_id=spool_id, person=person, key=key, at=at, reason=reason)


def supersede_spool(*, spool_id: int, person: Person, key: str, at: datetime, reason: str) -> Recorded:
    """End a build because a newer reading replaces it."""
    return do_deed(code="superseded", spool_id=spool_id, person=person, key=key, at=at, reason=reason, as_shop=True)
