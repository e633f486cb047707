"""Every printed sheet of the shop: one file each, values in, one PDF out."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, BinaryIO

from cutlists.sheets.bench_list import BenchSheet, write_bench_list
from cutlists.sheets.claim import ClaimSheet, write_claim
from cutlists.sheets.cut_plan import CutPlanSheet, write_cut_plan
from cutlists.sheets.delivery import DeliverySheet, write_delivery
from cutlists.sheets.drop_tag import DropTagSheet, write_drop_tags
from cutlists.sheets.frame import LABEL_4X2, PAPERS, SHEET_PAPERS, Heading, Paper, paper
from cutlists.sheets.jig_slip import FieldLog, JigSlip, write_field_log, write_jig_slip
from cutlists.sheets.load_list import LoadSheet, write_load_list
from cutlists.sheets.spool_sheet import SpoolSheet, write_spool_sheet
from cutlists.sheets.tag_list import TagSheet, write_tag_list
from cutlists.sheets.ticket import Ticket, write_packet, write_ticket
from cutlists.sheets.turnaround import TurnaroundSheet, write_turnaround
from cutlists.sheets.turnover import TurnoverSheet, write_turnover
from cutlists.sheets.wrap import WrapSheet, write_wrap

__all__ = ["PAPERS", "SHEETS", "SHEET_PAPERS", "Heading", "Paper", "SheetKind", "paper", "write_packet"]


@dataclass(frozen=True, slots=True)
class SheetKind:
    """One kind of sheet: its code and title, the values it prints, who writes it, the papers it has a layout for.

    ``write(out, values, paper=...)`` writes one whole PDF and returns its number of pages.
    """

    code: str
    title: str
    values: type
    write: Callable[..., int]
    papers: tuple[Paper, ...] = SHEET_PAPERS

    def print_to(self, out: BinaryIO, values: Any, *, paper: Paper | None = None) -> int:
        """Write the sheet on the asked paper, or on the first that it has; refuses values of another sheet."""
        if not isinstance(values, self.values):
            raise TypeError(f"The {self.title} prints {self.values.__name__}, not {type(values).__name__}.")
        chosen = paper or self.papers[0]
        if chosen not in self.papers:
            raise ValueError(f"The {self.title} isn't made for {chosen.word}: take {self.papers[0].word}.")
        return self.write(out, values, paper=chosen)


SHEETS: tuple[SheetKind, ...] = (
    SheetKind("cut_ticket", "Cut ticket", Ticket, write_ticket, PAPERS),
    SheetKind("spool_sheet", "Spool sheet", SpoolSheet, write_spool_sheet),
    SheetKind("wrap", "Wrap template", WrapSheet, write_wrap),
    SheetKind("cut_plan", "Cut plan", CutPlanSheet, write_cut_plan),
    SheetKind("bench_list", "Bench list", BenchSheet, write_bench_list),
    SheetKind("load_list", "Load list", LoadSheet, write_load_list),
    SheetKind("claim", "Claim sheet", ClaimSheet, write_claim),
    SheetKind("delivery", "Delivery sheet", DeliverySheet, write_delivery),
    SheetKind("jig_slip", "Jig check slip", JigSlip, write_jig_slip),
    SheetKind("field_log", "Field log", FieldLog, write_field_log),
    SheetKind("tag_list", "Steel tags to stamp", TagSheet, write_tag_list),
    SheetKind("drop_tag", "Drop tags", DropTagSheet, write_drop_tags, (*SHEET_PAPERS, LABEL_4X2)),
    SheetKind("turnover", "Turnover record", TurnoverSheet, write_turnover),
    SheetKind("turnaround", "Turnaround report", TurnaroundSheet, write_turnaround),
)
