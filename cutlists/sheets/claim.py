"""The claim sheet: what went to the galvanizer and did not come back, with all that tells one spool from another."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, table_block, words_block
from cutlists.sheets.figures import count_text, degrees_text, length_text, printed_weight, unit_weight_text, weight_text
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.signatures import Signed, signature_block
from cutlists.sheets.table import Blank, Column


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimLine:
    """One missing spool: its tag, and what a tape finds it by where the tag is gone."""

    tag: str
    mark: str
    nps: str
    longer_leg_mm: float
    check_mm: float
    turn_deg: float
    black_kg: float
    said: str
    replaced_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimSheet:
    """A claim against one load; ``handed_over`` is the signature of whoever received it."""

    heading: Heading
    load: str
    galvanizer: str
    left: str
    due: str
    sent: int
    lines: tuple[ClaimLine, ...]
    handed_over: Signed | None = None


_COLUMNS = (
    Column("tag", 0.075, heavy=True),
    Column("mark", 0.08, heavy=True),
    Column("NPS", 0.045),
    Column("longer leg", 0.105, "end"),
    Column("end to end", 0.105, "end"),
    Column("turn", 0.06, "end"),
    Column("black", 0.08, "end"),
    Column("what was said", 0.29),
    Column("built again", 0.09),
    Column("FOUND", 0.07, "middle"),
)
_NOTES = (
    "Not found by its tag: measure NPS, longer leg and end to end; no two of these agree in all three.",
    "What turns up late comes back as a spare: tell the shop before it goes on a truck.",
)


def write_claim(out: BinaryIO, sheet: ClaimSheet, *, paper: Paper = LETTER) -> int:
    """Write the sheet; returns the number of pages."""
    body = body_of(paper)
    tape = sheet.heading.tape
    rows = [
        (
            line.tag or "no tag",
            line.mark,
            line.nps,
            length_text(line.longer_leg_mm, tape),
            length_text(line.check_mm, tape),
            degrees_text(line.turn_deg),
            weight_text(line.black_kg, sheet.heading.units),
            line.said,
            line.replaced_by,
            Blank.TICK,
        )
        for line in sheet.lines
    ]
    blocks = [
        Block(22.0, lambda page, top: _head(page, sheet, body=body, top=top)),
        table_block(_COLUMNS, rows, body=body, least=9.0, text=2.9),
        words_block(_NOTES, body=body, text=2.6, bullet="·"),
        signature_block(
            ("received: galvanizer", "searched: galvanizer, name, date", "shop: name, date"),
            body=body,
            signed=(sheet.handed_over,),
        ),
    ]
    leaves = set_pages(blocks, body)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Claim", mark=f"Load {sheet.load}", leaves=leaves)


def _head(page: Page, sheet: ClaimSheet, *, body: Body, top: float) -> None:
    units = sheet.heading.units
    weight = unit_weight_text(sum(printed_weight(line.black_kg, units) for line in sheet.lines), units)
    words = f"{count_text(len(sheet.lines), 'spool')} missing of {sheet.sent} · {weight} black"
    page.bold(body.left, top - 6, words, 5.4, room=body.width)
    page.words(body.left, top - 12.5, f"load {sheet.load} to {sheet.galvanizer}", 3.2, room=body.width)
    page.words(
        body.left, top - 18, f"left {sheet.left} · due back {sheet.due or 'no day agreed'}", 3.2, room=body.width
    )
