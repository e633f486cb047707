"""One spool's sheet, at once."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.papers.turnover import write_spool_record
from cutlists.papers.wraps import wraps_of
from cutlists.sheets import Paper, write_packet
from cutlists.sheets.spool_sheet import write_spool_sheet
from cutlists.sheets.wrap import write_wraps
from spools.errors import ShopError, not_found
from spools.flow.steps import say
from spools.marks import mark_key
from spools.models import Person, Spool


def _tickets(out: BinaryIO, spool: Spool, printing: Printing, paper: Paper) -> None:
    tickets = tickets_of(spool, printing, paper=paper)
    write_packet(out, tickets, total=len(tickets), paper=paper)


def _spool_sheet(out: BinaryIO, spool: Spool, printing: Printing, paper: Paper) -> None:
    write_spool_sheet(out, spool_sheet_of(spool, printing, paper=paper), paper=paper)


def _wraps(out: BinaryIO, spool: Spool, printing: Printing, paper: Paper) -> None:
    write_wraps(out, wraps_of(spool, printing), paper=paper)


def _turnover(out: BinaryIO, spool: Spool, printing: Printing, paper: Paper) -> None:
    write_spool_record(out, spool, printing, paper=paper)


SINGLES: dict[str, Callable[[BinaryIO, Spool, Printing, Paper], None]] = {
    "ticket": _tickets,
    "spool_sheet": _spool_sheet,
    "wrap": _wraps,
    "turnover": _turnover,
}


TO_WORK_BY = frozenset({"ticket", "spool_sheet", "wrap"})


def refuse_old_paper(spool: Spool) -> None:
    """Refuse to print what somebody could still cut or weld by, once its build has ended."""
    if not spool.live:
        words = (
            f"{spool.tie_in.mark} build {spool.letter} was {say(spool.the_standing.ended)}: its paper isn't printed."
        )
        raise ShopError("old_paper", words, "Print the paper of the newest build.")


@dataclass(frozen=True, slots=True)
class Single:
    """One sheet of one spool, ready to be written: the file's name without its ending, and the writer."""

    name: str
    spool: Spool
    how: Callable[[BinaryIO, Spool, Printing, Paper], None]

    def write(self, out: BinaryIO, printing: Printing, paper: Paper) -> None:
        """Write it."""
        self.how(out, self.spool, printing, paper)


def one_single(code: str, spool_id: int, person: Person) -> Single:
    """Return one sheet of one spool. Raises ``ShopError`` not_found for an unknown sheet or spool, and old_paper."""
    how = SINGLES.get(code)
    spool = next(spools_to_print([spool_id], person), None)
    if how is None or spool is None:
        raise not_found("sheet of that name")
    if code in TO_WORK_BY:
        refuse_old_paper(spool)
    safe = "".join(sign for sign in mark_key(spool.tie_in.mark) if sign.isascii() and sign.isalnum())
    return Single(f"{code}-{safe}-{spool.letter}", spool, how)
