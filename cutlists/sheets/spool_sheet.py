"""The spool sheet: drawing to scale, pieces, elbow marks, welds with boxes, check dimension, readings, cautions."""

from collections.abc import Iterable
from dataclasses import replace
from typing import BinaryIO

from cutlists.sheets.blocks import Block, caution_blocks, set_pages, table_block, words_block
from cutlists.sheets.figures import small_length_text, weight_text
from cutlists.sheets.frame import LETTER, Body, Paper, body_of, write_many, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.spool_values import RawReadings, SpoolJoint, SpoolPiece, SpoolSheet
from cutlists.sheets.table import Blank, Column, Mm
from cutlists.sheets.ticket_values import NamedLength
from geometry.drawing.shapes import Drawing
from geometry.tables.odd_sizes import say_size

__all__ = [
    "DRAWING_WIDTH_MM",
    "NamedLength",
    "RawReadings",
    "SpoolJoint",
    "SpoolPiece",
    "SpoolSheet",
    "drawing_height_mm",
    "write_spool_sheet",
    "write_spool_sheets",
]

DRAWING_WIDTH_MM = 188.0  # a drawing of this width is printed to its stated scale
_LEAST_DRAWING_MM, _MOST_DRAWING_MM = 54.0, 130.0
_DRAWING_OF_TWO_PAGES_MM = 100.0  # where one page can't hold it all, the drawing needn't be small
_GAP = 1.6
IN_A_ROW = 4
QR_MM, _HEAD = 18.5, 22.5

_PIECES = (
    Column("piece", 0.17, heavy=True),
    Column("what", 0.15),
    Column("cut length", 0.15, "end", heavy=True),
    Column("end 1", 0.19),
    Column("end 2", 0.19),
    Column("heat", 0.15),
)
_JOINTS = (
    Column("weld", 0.08, heavy=True),
    Column("joins", 0.12),
    Column("kind", 0.12),
    Column("root gap", 0.12, "end", heavy=True),
    Column("WPS", 0.14),
    Column("welder's stamp", 0.22),
    Column("visual good", 0.1, "middle"),
    Column("by", 0.1),
)
_ROW, _JOINT_ROW, _MARKS, _TEXT = 6.2, 6.8, 16.0, 3.0
_MANY, _LOW_ROW, _LOW_JOINT_ROW = 9, 5.4, 5.4  # rows of a spool of many pieces and welds


def write_spool_sheet(out: BinaryIO, sheet: SpoolSheet, *, paper: Paper = LETTER) -> int:
    """Write the sheet: one page for a usual spool, more for one of many pieces. Returns the number of pages."""
    body = body_of(paper)
    leaves = set_pages(_blocks(sheet, body), body, gap=_GAP)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Spool sheet", mark=sheet.mark, leaves=leaves)


def write_spool_sheets(out: BinaryIO, sheets: Iterable[SpoolSheet], *, paper: Paper = LETTER) -> int:
    """Write the sheets of many spools as they come, each with its own n of m; returns the number of pages."""
    body = body_of(paper)
    told = ((sheet.heading, sheet.mark, set_pages(_blocks(sheet, body), body, gap=_GAP)) for sheet in sheets)
    return write_many(out, told, paper=paper, title="Spool sheet")


def drawing_height_mm(sheet: SpoolSheet, *, paper: Paper = LETTER) -> float:
    """Return how high a drawing fills the page that these values (still without one) leave free."""
    body = body_of(paper)
    blocks = _blocks(replace(sheet, drawing=None), body)
    free = body.top - body.bottom - sum(block.height + _GAP for block in blocks) - 4.0
    return min(_MOST_DRAWING_MM, free) if free >= _LEAST_DRAWING_MM else _DRAWING_OF_TWO_PAGES_MM


def _drawing_height(drawing: Drawing) -> float:
    return min(_MOST_DRAWING_MM, drawing.height_mm) + 3.6


def _blocks(sheet: SpoolSheet, body: Body) -> list[Block]:
    blocks = [Block(_HEAD, lambda page, top: _head(page, sheet, body=body, top=top))]
    if sheet.drawing is not None:
        height = _drawing_height(sheet.drawing)
        blocks.append(Block(height, lambda page, top: _drawing(page, sheet, body=body, top=top)))
    beside, below = _marks_set(sheet.elbow_marks)
    blocks.append(Block(17.2, lambda page, top: _check(page, sheet, beside, body=body, top=top)))
    blocks += [_marks_block(row, body) for row in below]
    pieces = [(p.mark, p.words, _length(p), p.end_1, p.end_2, p.heat or Blank.LINE) for p in sheet.pieces]
    many = len(sheet.pieces) + len(sheet.joints) >= _MANY
    blocks.append(table_block(_PIECES, pieces, body=body, least=_LOW_ROW if many else _ROW, text=_TEXT))
    welds = [(j.number, j.pieces, j.kind, _gap(j, sheet), *_to_fill_in(j)) for j in sheet.joints]
    if welds:  # bent pipe has none
        least = _LOW_JOINT_ROW if many else _JOINT_ROW
        blocks.append(table_block(_JOINTS, welds, body=body, least=least, text=_TEXT))
    if sheet.notes:
        blocks.append(words_block(sheet.notes[:8], body=body, text=2.7, bullet="·", most_lines=2))
    blocks.append(Block(12.4, lambda page, top: _readings(page, sheet, body=body, top=top)))
    blocks += caution_blocks(sheet.cautions, body)
    return blocks


def _length(piece: SpoolPiece) -> str | Mm:
    return "bought" if piece.length_mm is None else Mm(piece.length_mm)


def _gap(joint: SpoolJoint, sheet: SpoolSheet) -> str:
    return "none" if joint.gap_mm is None else small_length_text(joint.gap_mm, sheet.heading.tape)


def _to_fill_in(joint: SpoolJoint) -> tuple[str | Blank, ...]:
    return joint.wps or Blank.LINE, Blank.LINE, Blank.TICK, Blank.LINE


def _head(page: Page, sheet: SpoolSheet, *, body: Body, top: float) -> None:
    x, right = body.left, body.right
    page.code(sheet.code, right - QR_MM, top - QR_MM, QR_MM)
    page.words(right, top - QR_MM - 3.4, sheet.code.typed, 2.2, anchor="end", room=QR_MM + 6)
    room = right - x - QR_MM - 8
    pipe = f"{say_size(sheet.nps)} · {sheet.schedule}" + (f" · {sheet.material}" if sheet.material else "")
    page.bold(x, top - 4.6, pipe, 4.4, room=room * 0.62)
    page.bold(x, top - 11.2, sheet.turn_words, 4.0, room=room * 0.62, smallest=2.2)
    page.words(x, top - 16.6, sheet.hand_words, 3.0, room=room * 0.62)
    weight = f"{weight_text(sheet.black_kg, sheet.heading.units)} black"
    zinc = f", about {weight_text(sheet.black_kg + sheet.zinc_kg, sheet.heading.units)} with zinc"
    page.words(x, top - 21.6, weight + (zinc if sheet.zinc_kg else ""), 3.0, room=room * 0.62)
    _tag(page, sheet.tag, left=x + room * 0.66, top=top, width=room * 0.34)


def _tag(page: Page, tag: str, *, left: float, top: float, width: float) -> None:
    """Draw the box of the stamped tag: its number, or a line to write it on."""
    page.box(left, top - _HEAD, width, _HEAD, line=0.5)
    page.words(left + 2, top - 4.0, "STAMPED STEEL TAG", 2.2, room=width - 4)
    if tag:
        wide = page.bold(left + 2, top - 16.8, tag, 9.0, room=width - 4)
        page.line(left + 2, top - 19.2, left + 2 + wide, top - 19.2, 0.8)
    else:
        page.words(left + 2, top - 21.0, "five digits, at acceptance", 2.2, room=width - 4)
        page.line(left + 2, top - 16.8, left + width - 2, top - 16.8, 0.25)


def _drawing(page: Page, sheet: SpoolSheet, *, body: Body, top: float) -> None:
    if sheet.drawing is None:
        return
    height = _drawing_height(sheet.drawing)
    page.sketch(sheet.drawing, body.left, top - height, width=body.width, height=height)


def _marks_set(marks: tuple[NamedLength, ...]) -> tuple[tuple[NamedLength, ...], list[tuple[NamedLength, ...]]]:
    """Return the marks beside the check dimension, and rows of the others below: an elbow's three stay together."""
    if len(marks) <= IN_A_ROW:
        return marks, []
    rest = marks[3:]
    return marks[:3], [rest[start : start + IN_A_ROW] for start in range(0, len(rest), IN_A_ROW)]


def _marks_block(marks: tuple[NamedLength, ...], body: Body) -> Block:
    return Block(_MARKS, lambda page, top: _marks(page, marks, left=body.left, width=body.width, top=top))


def _marks(page: Page, marks: tuple[NamedLength, ...], *, left: float, width: float, top: float) -> None:
    each = width / max(1, len(marks))
    for at, mark in enumerate(marks):
        page.words(left + at * each + 3, top - 4.0, mark.name.upper(), 2.2, room=each - 5)
        page.length(left + at * each + 3, top - 14.4, mark.mm, 5.4, room=each - 5)


def _check(page: Page, sheet: SpoolSheet, marks: tuple[NamedLength, ...], *, body: Body, top: float) -> None:
    """Draw the check dimension in its thick box and the marks to lay on the elbow beside it."""
    wide = body.width * (0.5 if marks else 1.0)
    page.box(body.left, top - 17.2, wide, 17.2, line=0.9)
    page.bold(body.left + 2, top - 4.0, "CHECK DIMENSION", 2.6)
    page.words(body.left + 33, top - 4.0, sheet.check_words, 2.2, room=wide - 35)
    used = page.length(body.left + 2, top - 14.4, sheet.check_mm, 7.0, room=wide * 0.6)
    tolerance = f"± {small_length_text(sheet.check_tolerance_mm, page.tape)}"
    page.bold(body.left + used + 6, top - 14.4, tolerance, 4.4, room=wide - used - 30)
    page.words(body.left + wide - 19, top - 9.8, "measured", 2.0, room=18)
    page.line(body.left + wide - 21, top - 15.8, body.left + wide - 2, top - 15.8, 0.25)
    _marks(page, marks, left=body.left + wide, width=body.width - wide, top=top)


def _readings(page: Page, sheet: SpoolSheet, *, body: Body, top: float) -> None:
    r = sheet.readings
    page.line(body.left, top, body.right, top, 0.35)
    named = (
        ("LEG A", r.leg_a),
        ("LEG B", r.leg_b),
        ("INCLUDED, DEG", r.included),
        ("BURN", r.burn),
        ("SET POINT", r.set_point),
        ("CLOSING C", r.closing),
    )
    each = body.width / len(named)
    for at, (name, text) in enumerate(named):
        page.words(body.left + at * each, top - 3.2, name, 1.9, room=each - 2)
        page.bold(body.left + at * each, top - 7.6, text or "not taken", 3.2, room=each - 2)
    said = f"as read: reading {r.revision}, {r.taken}, {r.jig}"
    page.words(body.left, top - 11.6, said, 2.3, room=body.width)
    page.line(body.left, top - 12.4, body.right, top - 12.4, 0.35)
