"""Paper of a build that has ended is met on the floor and stops the work; the foreman takes it away."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.errors import ShopError
from spools.models import Person, Spool
from spools.recorded import Recorded


def meet_old_paper(*, spool_id: int, person: Person, key: str, at: datetime, where: str) -> Recorded:
    """Write down that somebody held old paper, and where; it changes nothing. Raises ``ShopError`` not_old."""

    def prepare(spool: Spool) -> dict[str, object]:
        if spool.live:
            raise ShopError("not_old", "This paper counts.", "Go on with it.")
        return {}

    return do_deed(
        code="old_paper",
        spool_id=spool_id,
        person=person,
        key=key,
        at=at,
        reason=where,
        prepare=prepare,
        even_ended=True,
    )


def take_paper_away(*, spool_id: int, person: Person, key: str, at: datetime) -> Recorded:
    """Write down that the old paper is off the floor."""
    return do_deed(code="paper_gone", spool_id=spool_id, person=person, key=key, at=at, even_ended=True)
