"""Cut tickets: one piece a page or a label, and packets of any number, written page by page."""

from collections.abc import Callable, Iterable
from typing import BinaryIO

from cutlists.sheets.fonts import MM
from cutlists.sheets.frame import LABELS, LETTER, Paper
from cutlists.sheets.page import Page
from cutlists.sheets.stream import open_canvas
from cutlists.sheets.ticket_label import draw_ticket_label
from cutlists.sheets.ticket_page import draw_ticket_page
from cutlists.sheets.ticket_values import NamedLength, Ticket, TicketEnd

__all__ = ["PART_PAGES", "NamedLength", "Ticket", "TicketEnd", "write_packet", "write_ticket"]

PART_PAGES = 100  # progress is told, and a packet can be called off, after so many pages


def write_ticket(out: BinaryIO, ticket: Ticket, *, paper: Paper = LETTER) -> int:
    """Write one ticket; returns the number of pages, 1."""
    return write_packet(out, (ticket,), total=1, paper=paper)


def write_packet(
    out: BinaryIO,
    tickets: Iterable[Ticket],
    *,
    total: int,
    paper: Paper = LETTER,
    progress: Callable[[int], None] = lambda done: None,
) -> int:
    """Write tickets one after the other, taking them as they come; returns the number of pages.

    ``progress`` hears the pages done after each part and at the end; what it raises calls the packet off.
    """
    canvas = open_canvas(out, width=paper.width_mm * MM, height=paper.height_mm * MM, title="Cut tickets")
    draw = draw_ticket_label if paper in LABELS else draw_ticket_page
    page = Page(canvas, width_mm=paper.width_mm, height_mm=paper.height_mm)
    number = 0
    for number, ticket in enumerate(tickets, start=1):
        page.start(tape=ticket.heading.tape)
        draw(page, ticket, paper=paper, number=number, total=total)
        canvas.showPage()
        if number % PART_PAGES == 0:
            progress(number)
    canvas.save()
    progress(number)
    return number
