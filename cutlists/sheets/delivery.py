"""The delivery sheet: spools in walking order from the shaft, what each weighs, and whether it fits."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, table_block, words_block
from cutlists.sheets.figures import LB_PER_KG, count_text, printed_weight, unit_weight_text, weight_text
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.qr import Code
from cutlists.sheets.signatures import Signed, signature_block
from cutlists.sheets.table import Blank, Column

TWO_PERSON_LB = 50  # common practice, no source: above this two people lift


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryLine:
    """One spool in walking order; ``end_to_main`` says which of its ends goes to the main."""

    mark: str
    station: str
    side: str
    end_to_main: str
    tag: str
    mass_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliverySheet:
    """One trip to one reach of the main."""

    heading: Heading
    delivery: str
    reach: str
    lines: tuple[DeliveryLine, ...]
    notes: tuple[str, ...] = ()
    code: Code | None = None
    code_until: str = ""
    signed: tuple[Signed, ...] = ()


_COLUMNS = (
    Column("walk", 0.06, "end"),
    Column("mark", 0.13, heavy=True),
    Column("station", 0.13, heavy=True),
    Column("side", 0.08),
    Column("end to main", 0.14),
    Column("tag", 0.11, heavy=True),
    Column("weight", 0.1, "end", heavy=True),
    Column("lift", 0.11),
    Column("FIT", 0.07, "middle"),
    Column("DOESN'T FIT", 0.1, "middle"),
)


def write_delivery(out: BinaryIO, sheet: DeliverySheet, *, paper: Paper = LETTER) -> int:
    """Write the sheet; returns the number of pages."""
    body = body_of(paper)
    rows = [
        (
            str(number),
            line.mark,
            line.station,
            line.side,
            line.end_to_main,
            line.tag,
            weight_text(line.mass_kg, sheet.heading.units),
            "2 PERSONS" if line.mass_kg * LB_PER_KG > TWO_PERSON_LB else "",
            Blank.TICK,
            Blank.TICK,
        )
        for number, line in enumerate(sheet.lines, start=1)
    ]
    blocks = [
        Block(32.0 if sheet.code else 16.0, lambda page, top: _totals(page, sheet, body=body, top=top)),
        table_block(_COLUMNS, rows, body=body, least=9.0, text=3.1),
        words_block((_LIFT, *sheet.notes), body=body, text=2.6, bullet="·"),
        signature_block(
            ("received: name, count, date, time", "driver: name"),
            body=body,
            signed=(next(reversed(sheet.signed), None),),
        ),
    ]
    leaves = set_pages(blocks, body)
    return write_pages(
        out, paper=paper, heading=sheet.heading, title="Delivery", mark=f"Load {sheet.delivery}", leaves=leaves
    )


_LIFT = (
    f"Above {TWO_PERSON_LB} lb (23 kg) two people lift. Follow the site's own lifting rules where they ask for more. "
    "DOESN'T FIT: say long, short, turned wrong, clocked wrong or wrong end, and measure again before leaving."
)


def _totals(page: Page, sheet: DeliverySheet, *, body: Body, top: float) -> None:
    total = sum(printed_weight(line.mass_kg, sheet.heading.units) for line in sheet.lines)
    heavy = sum(1 for line in sheet.lines if line.mass_kg * LB_PER_KG > TWO_PERSON_LB)
    words = f"{count_text(len(sheet.lines), 'spool')} · {unit_weight_text(total, sheet.heading.units)}"
    room = body.width - (34 if sheet.code else 0)
    page.bold(body.left, top - 6, words, 5.4, room=room)
    said = f"{sheet.reach} · walking order from the shaft · {heavy} need two persons"
    page.words(body.left, top - 12.5, said, 3.2, room=room)
    if sheet.code:
        page.code(sheet.code, body.right - 28, top - 29, 28)
        page.words(body.left, top - 22, sheet.code_until, 2.6, room=room)
        page.words(body.left, top - 26, sheet.code.typed, 2.6, room=room)
