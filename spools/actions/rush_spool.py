"""Mark a spool as a rush, or take the rush off."""

from datetime import datetime

from spools.actions.do_deed import do_deed
from spools.models import Person
from spools.recorded import Recorded


def rush_spool(
    *, spool_id: int, person: Person, key: str, at: datetime, reason: str = "", asked_by: str = "", by_when: str = ""
) -> Recorded:
    """Rush a spool: who asked and by when, or both in one ``reason``."""
    asked_by, by_when = asked_by.strip()[:60], by_when.strip()[:60]
    if asked_by and by_when:
        told = f"{asked_by} asked, by {by_when}"
        reason = f"{told}: {reason.strip()}" if reason.strip() else told
    return do_deed(
        code="rushed",
        spool_id=spool_id,
        person=person,
        key=key,
        at=at,
        reason=reason[:300],
        prepare=lambda spool: {"details": {"asked_by": asked_by, "by_when": by_when}},
    )


def unrush_spool(*, spool_id: int, person: Person, key: str, at: datetime) -> Recorded:
    """Take the rush off again."""
    return do_deed(code="unrushed", spool_id=spool_id, person=person, key=key, at=at)
