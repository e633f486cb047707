"""The cut plan bar by bar, and the label of one piece at the saw."""

from collections import defaultdict
from typing import BinaryIO

from cutlists.laying_out import left_over_u
from cutlists.models import Cut, CutPlan
from cutlists.papers.heading import Printing, heading_for
from cutlists.papers.single import refuse_old_paper
from cutlists.papers.tickets import spools_to_print, tickets_of
from cutlists.papers.words import end_words, schedule_words
from cutlists.sheets import Paper, write_packet
from cutlists.sheets import paper as paper_of
from cutlists.sheets.cut_plan import CutPlanSheet, PlanBar, PlanCut, write_cut_plan
from cutlists.units import to_mm
from spools.errors import not_found

LABEL = "label-4x6"


def write_plan(out: BinaryIO, plan: CutPlan, printing: Printing, *, paper: Paper) -> int:
    """Write a plan as it stands now; returns the pages."""
    return write_cut_plan(out, plan_sheet_of(plan, printing), paper=paper)


def write_label(out: BinaryIO, cut: Cut, printing: Printing) -> int:
    """Write the label of one piece. Raises ``ShopError`` not_found, old_paper."""
    paper = paper_of(LABEL)
    spool = next(spools_to_print([cut.piece.spool_id], printing.person), None)
    if spool:
        refuse_old_paper(spool)
    made = tickets_of(spool, printing, paper=paper) if spool else ()
    tickets = [ticket for ticket in made if ticket.piece == cut.piece.mark]
    if not tickets:
        raise not_found("piece of that mark")
    return write_packet(out, tickets, total=len(tickets), paper=paper)


def plan_sheet_of(plan: CutPlan, printing: Printing) -> CutPlanSheet:
    """Return the sheet's values; what was taken out or cut wrong is left out."""
    cuts = list(
        plan.cuts.exclude(state=Cut.State.WITHDRAWN)
        .select_related("bar__heat", "piece__spool__tie_in__job")
        .defer("piece__spool__solution", "piece__spool__route")
        .order_by("bar_order", "position_u", "id")
    )
    job = cuts[0].piece.spool.tie_in.job if cuts else None
    by_bar: dict[int, list[Cut]] = defaultdict(list)
    for cut in cuts:
        by_bar[cut.bar_id].append(cut)
    return CutPlanSheet(
        heading=heading_for(printing, shop=plan.shop, job=job),
        plan=f"Plan {plan.number}",
        verdict=plan.verdict,
        bars=tuple(_bar(plan, rows) for rows in by_bar.values()),
    )


def _bar(plan: CutPlan, cuts: list[Cut]) -> PlanBar:
    bar = cuts[0].bar
    planned = [cut for cut in cuts if cut.state == Cut.State.PLANNED]
    drop_u = left_over_u(bar, plan, planned)
    kept = drop_u >= plan.keep_from_u and drop_u > 0
    return PlanBar(
        number=f"{cuts[0].bar_order} {bar.tag}",
        nps=plan.nps,
        schedule=schedule_words(plan.schedule),
        stock=("drop" if bar.is_drop else "bar") + (f", rack {bar.rack}" if bar.rack else ""),
        usable_mm=to_mm(max(bar.used_u + bar.length_u, cuts[-1].position_u + cuts[-1].length_u)),
        end_trim_mm=0.0 if bar.is_drop else to_mm(plan.trim_u),
        kerf_mm=to_mm(plan.kerf_u),
        heat=bar.heat.number if bar.heat else "",
        cuts=tuple(_cut(place, cut) for place, cut in enumerate(cuts, start=1)),
        drop_mm=to_mm(drop_u),
        drop_words="tag it and rack it" if kept else "scrap" if drop_u else "none" if planned else "bar is done",
    )


def _cut(place: int, cut: Cut) -> PlanCut:
    ends = cut.piece.ends
    return PlanCut(
        position=place,
        mark=f"{cut.piece.spool.label}-{cut.piece.mark}",
        length_mm=to_mm(cut.length_u),
        tape_mm=to_mm(cut.position_u + cut.length_u),
        end_1=end_words(ends[0]["prep"]),
        end_2=end_words(ends[-1]["prep"]),
        done=cut.state == Cut.State.DONE,
    )
