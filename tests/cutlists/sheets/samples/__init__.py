"""Made-up values for the sheets, the same for the same seed: easy ones, and odd ones that strain the room."""

from tests.cutlists.sheets.samples.lists import bench, claim, cut_plan, delivery, load
from tests.cutlists.sheets.samples.parts import CAUTIONS, ODD_MARKS, code, heading
from tests.cutlists.sheets.samples.records import field_log, jig_slip, turnaround, turnover
from tests.cutlists.sheets.samples.records import tags as steel_tags
from tests.cutlists.sheets.samples.spools import spool, wrap
from tests.cutlists.sheets.samples.tags import drop_tags
from tests.cutlists.sheets.samples.tickets import ticket

__all__ = ["CAUTIONS", "ODD_MARKS", "code", "cut_plan", "heading", "load", "sample", "spool", "ticket", "wrap"]


def sample(code: str, seed: int, *, units: str = "us") -> object:
    """Return values for the sheet of a code."""
    makers = {
        "cut_ticket": ticket,
        "spool_sheet": spool,
        "wrap": wrap,
        "cut_plan": cut_plan,
        "bench_list": bench,
        "load_list": load,
        "claim": claim,
        "delivery": delivery,
        "jig_slip": jig_slip,
        "field_log": field_log,
        "tag_list": steel_tags,
        "drop_tag": drop_tags,
        "turnover": turnover,
        "turnaround": turnaround,
    }
    return makers[code](seed, units=units)
