"""The turnover record: each spool's heats, welds, checks, tag and dates, handed over with the pipe."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, table_block, words_block
from cutlists.sheets.figures import count_text, exact_degrees_text, length_text
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.signatures import Signed, signature_block
from cutlists.sheets.table import Column
from cutlists.sheets.tiles import turned


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnoverLine:
    """One spool as it was built: what the print asked for, in mm and degrees, and what was found; None: not taken."""

    mark: str
    revision: str
    tag: str
    pipe: str
    heats: str
    welders: str
    check_mm: float
    measured_mm: float | None
    included_deg: float
    found_deg: float | None
    accepted: str
    coated: str
    delivered: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnoverSheet:
    """The record of a delivery, a reach or a whole job."""

    heading: Heading
    record: str
    scope: str
    lines: tuple[TurnoverLine, ...]
    notes: tuple[str, ...] = ()
    received: Signed | None = None


_COLUMNS = (
    Column("mark", 0.055, heavy=True),
    Column("rev", 0.025, "middle", heavy=True),
    Column("tag", 0.05, heavy=True),
    Column("pipe", 0.085),
    Column("heats", 0.16),
    Column("welders", 0.095),
    Column("check", 0.075, "end", heavy=True),
    Column("measured", 0.075, "end", heavy=True),
    Column("included", 0.055, "end", heavy=True),
    Column("found", 0.055, "end", heavy=True),
    Column("accepted, by", 0.155),
    Column("coating", 0.105),
    Column("delivered", 0.095),
)
NOT_TAKEN = "not taken"


def write_turnover(out: BinaryIO, sheet: TurnoverSheet, *, paper: Paper = LETTER) -> int:
    """Write the record on paper lying on its long side; returns the number of pages."""
    lying = turned(paper)
    body = body_of(lying)
    tape = sheet.heading.tape
    rows = [
        (
            line.mark,
            line.revision,
            line.tag,
            line.pipe,
            line.heats,
            line.welders,
            length_text(line.check_mm, tape),
            length_text(line.measured_mm, tape) if line.measured_mm is not None else NOT_TAKEN,
            exact_degrees_text(line.included_deg),
            NOT_TAKEN if line.found_deg is None else exact_degrees_text(line.found_deg),
            line.accepted,
            line.coated,
            line.delivered,
        )
        for line in sheet.lines
    ]
    blocks = [
        Block(8.0, lambda page, top: _head(page, sheet, body=body, top=top)),
        table_block(_COLUMNS, rows, body=body, least=8.0, text=2.7),
        words_block((_TOLD, *sheet.notes), body=body, text=2.5, bullet="·"),
        signature_block(
            ("shop: name, date", "inspector: name, date", "received: name, date"),
            body=body,
            signed=(None, None, sheet.received),
        ),
    ]
    leaves = set_pages(blocks, body)
    return write_pages(
        out, paper=lying, heading=sheet.heading, title="Turnover record", mark=sheet.record, leaves=leaves
    )


_TOLD = (
    "Check: the dimension to hold, from the exact reading; measured: as taped before acceptance. Included: the print's "
    "included angle; found: as read on the welded spool. Mill certificates travel by heat number. This record doesn't "
    "replace what the job's code or its inspector asks for."
)


def _head(page: Page, sheet: TurnoverSheet, *, body: Body, top: float) -> None:
    words = f"{count_text(len(sheet.lines), 'spool')} · {sheet.scope}"
    page.bold(body.left, top - 5.5, words, 4.6, room=body.width)
