"""Ask the foreman for what only he may do: it stands in the story and on his list, and changes nothing by itself."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.errors import invalid
from spools.flow.asking import WANTS
from spools.models import Person
from spools.recorded import Recorded


def ask_foreman(*, spool_id: int, person: Person, key: str, at: datetime, wants: str, reason: str) -> Recorded:
    """Ask for one of ``flow.asking.WANTS``, and say why."""
    if wants not in WANTS:
        raise invalid({"wants": f"Choose what you ask for: {', '.join(WANTS.values())}."}, "What is to be done?")
    return do_deed(
        code="asked",
        spool_id=spool_id,
        person=person,
        key=key,
        at=at,
        reason=reason,
        prepare=lambda spool: {"details": {"wants": wants}},
    )
