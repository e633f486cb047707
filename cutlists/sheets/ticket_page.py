"""The cut ticket on a letter or A4 page, read at arm's length."""

from cutlists.sheets.cautions import as_many_as_fit, cautions_height, draw_cautions
from cutlists.sheets.figures import other_length_text, wall_text
from cutlists.sheets.frame import Paper
from cutlists.sheets.page import Anchor, Page
from cutlists.sheets.piece_picture import piece_picture
from cutlists.sheets.qr import QUIET_MODULES
from cutlists.sheets.ticket_values import Ticket, TicketEnd

QR_MM = 25.0
_QUIET_MM = QR_MM * QUIET_MODULES / 25  # a short address makes a code of 25 modules
_MARK_MM, _LENGTH_MM = 20.0, 16.0
# Distances of the rules from the top margin.
_R1, _R2, _R3, _R4, _R5, _R6 = 32.0, 60.0, 99.0, 113.5, 128.0, 140.0
_MOST_CAUTIONS_MM = 31.5  # more would take the sketch's room on a letter page
SKETCH_WIDTH_MM, SKETCH_HEIGHT_MM = 188.0, 72.0  # a sketch of this size is printed to its stated scale
# The two rows of boxes: name and share of the width.
_ROW_1 = (("NPS", 0.14), ("WALL", 0.24), ("MATERIAL", 0.22), ("HEAT NUMBER", 0.40))
_ROW_2 = (("BAR", 0.14), ("POSITION", 0.12), ("TAPE FROM BAR END", 0.24), ("BENCH", 0.16), ("DUE", 0.34))


def draw_ticket_page(page: Page, ticket: Ticket, *, paper: Paper, number: int, total: int) -> None:
    """Draw one ticket on one page."""
    heading = ticket.heading
    page.stamp(
        ("ticket", heading.shop, heading.job, heading.printed_at, heading.printed_by),
        lambda inner: _fixed(inner, ticket, paper),
    )
    left, right = paper.margin_mm, paper.width_mm - paper.margin_mm
    top = paper.height_mm - paper.margin_mm
    _mark(page, ticket, left=left, right=right, top=top)
    _length(page, ticket, left=left, right=right, top=top)
    _ends(page, ticket, left=left, right=right, top=top)
    _boxes(page, ticket, left=left, right=right, top=top)
    _steps(page, ticket, left=left, right=right, top=top)
    low = paper.margin_mm + 7.0
    cautions = as_many_as_fit(ticket.cautions, room=right - left, high=_MOST_CAUTIONS_MM)
    if cautions:
        draw_cautions(page, cautions, x=left, bottom=low, room=right - left)
        low += cautions_height(cautions, room=right - left) + 2
    if ticket.sketch:
        _sketch(page, ticket, left=left, right=right, top=top - _R6 - 1, low=low)
    page.bold(right, paper.margin_mm, f"page {number} of {total}", 2.4, anchor="end")


def _fixed(page: Page, ticket: Ticket, paper: Paper) -> None:
    """Draw what is the same on every ticket of a packet: rules, box lines, names, job, printed when and by whom."""
    heading = ticket.heading
    left, right = paper.margin_mm, paper.width_mm - paper.margin_mm
    top = paper.height_mm - paper.margin_mm
    wide = right - left
    page.reversed_words(left, top - 30.2, "CUT TICKET", 3.0)
    for down, width in ((_R1, 0.8), (_R2, 0.4), (_R3, 0.4), (_R4, 0.25), (_R5, 0.4), (_R6, 0.4)):
        page.line(left, top - down, right, top - down, width)
    for row, down in ((_ROW_1, _R3), (_ROW_2, _R4)):
        x = left
        for name, share in row:
            page.words(x + 1.5, top - down - 3.6, name, 2.0, room=share * wide - 3)
            if x > left:
                page.line(x, top - down, x, top - down - 14.5, 0.25)
            x += share * wide
    page.words(left, top - _R2 - 4.5, "END 1", 2.4)
    page.words(right, top - _R2 - 4.5, "END 2", 2.4, anchor="end")
    low = paper.margin_mm
    page.line(left, low + 4.5, right, low + 4.5)
    words = f"{heading.shop} · {heading.job} · printed {heading.printed_at} by {heading.printed_by}"
    page.words(left, low, words, 2.1, room=wide - 34)


def _mark(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    room = right - left - QR_MM - _QUIET_MM - 4
    page.banner(left, top, ticket.piece_mark, _MARK_MM, room=room, smallest=4.0)
    page.code(ticket.code, right - QR_MM, top - QR_MM, QR_MM)
    page.bold(right, top - 30.2, ticket.code.typed, 2.6, room=QR_MM + 8, anchor="end")
    rev = f"REV {ticket.heading.revision}"
    wide = page.bold(left + room, top - 29.4, rev, 5.0, room=34, anchor="end", smallest=2.0)
    words = f"piece {ticket.piece_number} of {ticket.piece_count}, {ticket.kind_words}"
    page.words(left + 27, top - 29.0, words, 3.2, room=room - 27 - wide - 4)


def _length(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    base = top - _R1 - 23.0
    wide = page.length(left, base, ticket.length_mm, _LENGTH_MM, room=right - left - 60)
    x = left + wide + 6
    page.words(x, base + 10.5, ticket.length_label.upper(), 3.0, room=40)
    page.bold(x, base, other_length_text(ticket.length_mm, page.tape), 7.0, room=40)
    marks = ticket.marks[:4]
    pitch = 25.6 / max(3, len(marks))
    for at, mark in enumerate(marks):
        y = top - _R1 - 0.78 * pitch - pitch * at
        page.length(right, y, mark.mm, 0.5 * pitch, anchor="end", room=30)
        page.words(right - 32, y, mark.name, 2.8, anchor="end", room=max(12.0, right - 34 - x))


def _ends(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    wide = right - left
    picture = piece_picture(ticket.end_1.code, ticket.end_2.code, width_mm=wide - 44, height_mm=20.0, kind=ticket.kind)
    page.drawing(picture, left + 22, top - _R2 - 22, width=wide - 44, height=20.0)
    half = wide / 2 - 4
    _end_words(page, ticket.end_1, x=left, y=top - _R2 - 30.5, room=half, anchor="start")
    _end_words(page, ticket.end_2, x=right, y=top - _R2 - 30.5, room=half, anchor="end")


def _end_words(page: Page, end: TicketEnd, *, x: float, y: float, room: float, anchor: Anchor) -> None:
    page.bold(x, y, end.words.upper(), 5.2, room=room, anchor=anchor, smallest=2.4)
    if end.note:
        page.words(x, y - 5.4, end.note, 2.6, room=room, anchor=anchor)


def _boxes(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    wall = f"{ticket.schedule} · {wall_text(ticket.wall_mm, ticket.heading.units)}"
    _row(page, _ROW_1, (ticket.nps, wall, ticket.material, ticket.heat), left=left, wide=right - left, top=top - _R3)
    if not ticket.heat:
        x = left + 0.6 * (right - left)
        page.line(x + 3, top - _R3 - 12.6, right - 2, top - _R3 - 12.6, 0.35)
    row = (ticket.bar, ticket.position, "", ticket.bench, ticket.due)
    _row(page, _ROW_2, row, left=left, wide=right - left, top=top - _R4)
    if ticket.tape_mm is not None:
        page.length(left + 0.26 * (right - left) + 1.5, top - _R4 - 12.2, ticket.tape_mm, 5.6, room=42)


def _row(
    page: Page, row: tuple[tuple[str, float], ...], texts: tuple[str, ...], *, left: float, wide: float, top: float
) -> None:
    x = left
    for (_, share), text in zip(row, texts, strict=True):
        if text:
            page.bold(x + 1.5, top - 12.0, text, 5.8, room=share * wide - 3)
        x += share * wide


def _steps(page: Page, ticket: Ticket, *, left: float, right: float, top: float) -> None:
    """A box to tick and a line to sign for each thing done to this piece."""
    steps = ticket.operations[:6]
    each = (right - left) / max(3, len(steps))
    for at, step in enumerate(steps):
        x, y = left + at * each, top - _R5 - 9.5
        page.box(x + 0.5, y, 7, 7, line=0.5)
        used = page.words(x + 10, y + 1.8, step, 3.6, room=each - 14)
        page.line(x + 12 + used, y + 0.6, x + each - 3, y + 0.6, 0.2)


def _sketch(page: Page, ticket: Ticket, *, left: float, right: float, top: float, low: float) -> None:
    if ticket.sketch is None or top - low < 25:
        return
    page.sketch(ticket.sketch, left, low, width=right - left, height=top - low)
