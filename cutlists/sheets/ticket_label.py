"""The cut ticket on a 4 x 2 in film label, or on a 4 x 6 with its sketch and cautions below."""

from cutlists.sheets.cautions import as_many_as_fit, cautions_height, draw_cautions
from cutlists.sheets.figures import other_length_text, wall_text
from cutlists.sheets.frame import LABEL_4X2, Paper
from cutlists.sheets.page import Page
from cutlists.sheets.piece_picture import end_picture
from cutlists.sheets.ticket_values import Ticket
from geometry.tables.odd_sizes import say_size

QR_MM = 18.0
_MARGIN_MM = LABEL_4X2.margin_mm
_RIGHT_MM = 20.5  # the column of the code
_MOST_CAUTIONS_MM = 30.5
# A sketch of this size is printed to its stated scale on a 4 x 6, below any cautions.
LABEL_SKETCH_WIDTH_MM, LABEL_SKETCH_HEIGHT_MM = 98.0, 52.0
_MARKS_MM = 26.0  # kept beside the length for what else is laid off
_MARK_MM, _LENGTH_MM = 17.5, 13.0  # capitals; the characters themselves are some 25 and 18 mm


def draw_ticket_label(page: Page, ticket: Ticket, *, paper: Paper, number: int, total: int) -> None:
    """Draw one ticket on one label."""
    m = _MARGIN_MM
    right, top = paper.width_mm - m, paper.height_mm - m
    low = paper.height_mm - LABEL_4X2.height_mm + m
    room = right - m - _RIGHT_MM - 1.5
    page.banner(m, top, ticket.piece_mark, _MARK_MM, room=room, smallest=3.0, below=0.6)
    _length(page, ticket, left=m, top=top - _MARK_MM, room=room)
    _column(page, ticket, right=right, top=top, count=f"{number} of {total}")
    _ends(page, ticket, left=m, y=low + 5.9, room=right - m)
    _lines(page, ticket, left=m, right=right, low=low)
    if low > LABEL_4X2.height_mm:
        _below(page, ticket, left=m, right=right, top=low - 3.0)


def _length(page: Page, ticket: Ticket, *, left: float, top: float, room: float) -> None:
    """Draw the cut length, and beside it what it runs along and the other marks to lay off."""
    marks = [mark for mark in ticket.marks if mark.name != "center"][:3]  # the center is the length itself
    along = ticket.length_label.removeprefix("cut ") if ticket.length_label != "cut length" else ""
    kept = _MARKS_MM if marks or along else 0.0
    wide = page.length(left, top - 16.9, ticket.length_mm, _LENGTH_MM, room=room - kept)
    x, y = left + wide + 3.0, top - 4.4
    if along:
        page.words(x, y, along, 1.9, room=left + room - x)
        y -= 4.7
    for mark in marks:
        page.words(x, y, mark.name, 1.9, room=11.0)
        page.length(left + room, y - 0.4, mark.mm, 2.9, anchor="end", room=left + room - x - 11.5)
        y -= 4.7


def _column(page: Page, ticket: Ticket, *, right: float, top: float, count: str) -> None:
    left = right - _RIGHT_MM
    page.code(ticket.code, right - QR_MM - 0.6, top - QR_MM - 0.6, QR_MM)
    middle = (left + right) / 2 + 0.6
    page.words(middle, top - 22.2, f"{ticket.code.typed} · {count}", 1.7, room=_RIGHT_MM, anchor="middle")
    page.bold(middle, top - 28.6, f"REV {ticket.heading.revision}", 4.2, room=_RIGHT_MM, anchor="middle")
    page.words(middle, top - 33.0, other_length_text(ticket.length_mm, page.tape), 2.6, room=_RIGHT_MM, anchor="middle")
    if ticket.cautions:
        page.bold(middle, top - 36.4, "SEE CAUTIONS", 1.9, room=_RIGHT_MM, anchor="middle")


def _ends(page: Page, ticket: Ticket, *, left: float, y: float, room: float) -> None:
    page.line(left, y + 3.8, left + room, y + 3.8, 0.2)
    half = room / 2
    for at, end in enumerate((ticket.end_1, ticket.end_2)):
        x = left + at * half
        picture = end_picture(end.code, width_mm=7, height_mm=3.2, toward=1 if at else -1)
        page.drawing(picture, x, y, width=7, height=3.2)
        page.bold(x + 8, y + 0.4, f"{at + 1} {end.words}", 2.2, room=half - 10)


def _lines(page: Page, ticket: Ticket, *, left: float, right: float, low: float) -> None:
    wall = wall_text(ticket.wall_mm, ticket.heading.units)
    heat_left = right - 40.0
    room = heat_left - left - 1.5
    page.bold(left, low + 3.2, f"{say_size(ticket.nps)} · {ticket.schedule} · {wall}", 2.1, room=room)
    parts = [
        f"bar {ticket.bar}" if ticket.bar else "",
        f"pos. {ticket.position}" if ticket.position else "",
        f"bench {ticket.bench}" if ticket.bench else "",
        f"due {ticket.due}" if ticket.due else "",
    ]
    page.words(left, low, " · ".join(part for part in parts if part), 1.9, room=room, smallest=1.2)
    page.words(heat_left, low + 3.6, "HEAT", 1.5)
    page.line(heat_left, low - 0.2, right, low - 0.2, 0.25)
    page.bold(heat_left + 5.5, low + 0.8, ticket.heat, 3.4, room=34)


def _below(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    """Fill the rest of a 4 x 6: steps to tick, the sketch, the cautions."""
    steps = ticket.operations[:4]
    for at, step in enumerate(steps):
        x = left + at * (right - left) / 4
        page.box(x, top - 7, 5, 5, line=0.4)
        page.words(x + 6.5, top - 5.6, step, 2.4, room=(right - left) / 4 - 8)
    low = _MARGIN_MM
    cautions = as_many_as_fit(ticket.cautions, room=right - left, high=_MOST_CAUTIONS_MM)
    if cautions:
        draw_cautions(page, cautions, x=left, bottom=low, room=right - left)
        low += cautions_height(cautions, room=right - left) + 2
    if ticket.sketch and top - 9 - low > 25:
        page.sketch(ticket.sketch, left, low, width=right - left, height=top - 9 - low)
