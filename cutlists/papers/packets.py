"""Packets of many spools' papers, drawn from rows as they come."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import BinaryIO

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.sheets import PAPERS, SHEET_PAPERS, Paper, write_packet
from cutlists.sheets import paper as paper_of
from cutlists.sheets.spool_sheet import write_spool_sheets
from spools.models import Piece, Spool

Progress = Callable[[int], None]
EVERY = 5


def write_tickets(
    out: BinaryIO, spool_ids: Sequence[int], printing: Printing, *, paper: str, progress: Progress
) -> int:
    """Write the tickets of many spools as one PDF; ``progress`` hears how many spools are done. Returns the pages."""
    total = Piece.objects.filter(spool_id__in=spool_ids, spool__shop_id=printing.person.the_shop_id).count()
    chosen = paper_of(paper)
    spools = _told(spools_to_print(spool_ids, printing.person), progress)
    tickets = (ticket for spool in spools for ticket in tickets_of(spool, printing, paper=chosen))
    return write_packet(out, tickets, total=total, paper=chosen)


def write_sheets(out: BinaryIO, spool_ids: Sequence[int], printing: Printing, *, paper: str, progress: Progress) -> int:
    """Write the spool sheets of many spools as one PDF, each numbered by itself. Returns the pages."""
    chosen = paper_of(paper)
    spools = _told(spools_to_print(spool_ids, printing.person), progress)
    sheets = (spool_sheet_of(spool, printing, paper=chosen) for spool in spools)
    return write_spool_sheets(out, sheets, paper=chosen)


def _told(spools: Iterator[Spool], progress: Progress) -> Iterator[Spool]:
    """Yield the spools and tell, every few and at the end, how many of them are on paper."""
    done = 0
    for spool in spools:
        yield spool
        done += 1
        if done % EVERY == 0:
            progress(done)
    progress(done)


@dataclass(frozen=True, slots=True)
class Packet:
    """A kind of packet: what it is called, who writes it, on which papers."""

    words: str
    write: Callable[..., int]
    papers: tuple[Paper, ...]


PACKETS: dict[str, Packet] = {
    "cut_ticket": Packet("Cut tickets", write_tickets, PAPERS),
    "spool_sheet": Packet("Spool sheets", write_sheets, SHEET_PAPERS),
}
