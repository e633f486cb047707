"""Old paper that stopped somebody, written down once a day for each person and place."""

from datetime import datetime

from spools.actions.old_paper import meet_old_paper
from spools.flow.roles import Role
from spools.models import Person, Spool
from spools.ticket_codes import read_ticket
from spools.transactions import part_key


def paper_stopped(spool: Spool, person: Person, *, at: datetime, where: str) -> None:
    """Write down that the paper of an ended build was in somebody's hand; the foreman, who settles it, only looks."""
    if spool.live or person.may(frozenset({Role.FOREMAN})):
        return
    taken_away = spool.events.filter(code="paper_gone").count()  # what turns up again after that is news
    key = part_key("old-paper", spool.id, person.id, f"{at:%Y%m%d}", taken_away, where)
    meet_old_paper(spool_id=spool.id, person=person, key=key, at=at, where=where)


def paper_of(text: str, person: Person) -> Spool | None:
    """Return the build whose paper was scanned or typed by its code."""
    read = read_ticket(text)
    found = Spool.objects.for_person(person).filter(id=read.spool_id).first() if read else None
    return found if found and read and found.letter == read.letter else None
