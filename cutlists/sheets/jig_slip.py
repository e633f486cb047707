"""Paper for the field: the jig check slip, and the waterproof log that stands in for the phone."""

from dataclasses import dataclass
from typing import BinaryIO

from cutlists.sheets.blocks import Block, set_pages, table_block, words_block
from cutlists.sheets.figures import degrees_text, small_length_text
from cutlists.sheets.frame import LETTER, Body, Heading, Paper, body_of, write_pages
from cutlists.sheets.page import Page
from cutlists.sheets.signatures import signature_block
from cutlists.sheets.table import Blank, Cell, Column, Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class MasterPosition:
    """One position of the master gauge that a good jig reads right; what isn't known here is written in."""

    name: str
    leg_a_mm: float | None = None
    leg_b_mm: float | None = None
    included_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JigSlip:
    """The check of one jig before and after a shift."""

    heading: Heading
    jig: str
    set_points: str
    tolerance_mm: float
    tolerance_deg: float
    masters: tuple[MasterPosition, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """One tie-in still to measure, or an empty line."""

    mark: str = ""
    station: str = ""
    side: str = ""
    size: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldLog:
    """A walk's tie-ins in order, to write the readings beside."""

    heading: Heading
    log: str
    crew: str
    lines: tuple[LogLine, ...]


_MASTER = (
    Column("master position", 0.22, heavy=True),
    Column("A must read", 0.13, "end", heavy=True),
    Column("B must read", 0.13, "end", heavy=True),
    Column("included must be", 0.12, "end", heavy=True),
    Column("A reads", 0.13),
    Column("B reads", 0.13),
    Column("included reads", 0.14),
)
_LOG = (
    Column("tie-in", 0.12, heavy=True),
    Column("station, side", 0.13),
    Column("NPS", 0.06, heavy=True),
    Column("leg A", 0.13),
    Column("leg B", 0.13),
    Column("included", 0.1),
    Column("closing C", 0.13),
    Column("hand", 0.07),
    Column("up", 0.06),
    Column("who, time", 0.1),
)


def write_jig_slip(out: BinaryIO, sheet: JigSlip, *, paper: Paper = LETTER) -> int:
    """Write the check slip: once before going down, once at return. Returns the number of pages."""
    body = body_of(paper)
    limits = f"± {small_length_text(sheet.tolerance_mm, sheet.heading.tape)} and ± {degrees_text(sheet.tolerance_deg)}"
    rows: list[tuple[Cell, ...]] = [
        (
            m.name,
            *(Blank.LINE if mm is None else Mm(mm) for mm in (m.leg_a_mm, m.leg_b_mm)),
            Blank.LINE if m.included_deg is None else degrees_text(m.included_deg),
            *(Blank.LINE,) * 3,
        )
        for m in sheet.masters
    ]
    blocks = [Block(15.0, lambda page, top: _head(page, sheet, limits, body=body, top=top))]
    for when in ("before going down", "at return"):
        blocks.append(table_block(_MASTER, rows, body=body, least=13.0, text=3.6, title=when))
        blocks.append(signature_block(("checked by, date, time", "GOOD or OUT OF CHECK"), body=body))
    told = (
        f"Good is within {limits} in every position.",
        "Out of check: lock the jig away, tell the foreman. Every reading since the last good check is doubtful.",
    )
    blocks.append(words_block(told, body=body, text=2.8, bullet="·"))
    leaves = set_pages(blocks, body)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Jig check", mark=sheet.jig, leaves=leaves)


def _head(page: Page, sheet: JigSlip, limits: str, *, body: Body, top: float) -> None:
    page.bold(body.left, top - 5.5, f"set points {sheet.set_points}", 4.4, room=body.width)
    page.words(body.left, top - 11.5, f"limits {limits}", 3.2, room=body.width)


def write_field_log(out: BinaryIO, sheet: FieldLog, *, paper: Paper = LETTER) -> int:
    """Write the log on waterproof paper; returns the number of pages."""
    body = body_of(paper)
    rows: list[tuple[Cell, ...]] = [
        (
            line.mark or Blank.LINE,
            f"{line.station} {line.side}".strip() or Blank.LINE,
            line.size or Blank.LINE,
            *(Blank.LINE,) * 7,
        )
        for line in sheet.lines
    ]
    told = (
        "Write feet, inches and sixteenths as read, burned inches and all; say the turn aloud: sharp or gentle.",
        "C is measured from the hook, never burned. Hand: seen from the main, up mark on top.",
        "At the shaft two people key the lines in; C decides.",
        *((f"crew: {sheet.crew}",) if sheet.crew else ()),
    )
    blocks = [
        words_block(told, body=body, text=2.6, bullet="·"),
        table_block(_LOG, rows, body=body, least=12.5, text=3.1),
        signature_block(("measured by, date", "burn, set points, jig"), body=body),
    ]
    leaves = set_pages(blocks, body)
    return write_pages(out, paper=paper, heading=sheet.heading, title="Field log", mark=sheet.log, leaves=leaves)
