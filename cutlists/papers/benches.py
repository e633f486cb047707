"""The list of one bench: its queue, what is set up once for several, which pieces lie there."""

from typing import BinaryIO

from cutlists.papers.heading import Printing, heading_for, shop_clock
from cutlists.sheets.bench_list import BenchLine, BenchSheet, Setup, write_bench_list
from cutlists.sheets.frame import Paper
from geometry.tables.odd_sizes import say_size
from spools.flow.bench_hours import BenchHours
from spools.models import Bench, Spool
from spools.queries.bench import fits, queue_of
from spools.queries.hours import hours_left, newest_welds

MOST = 200


def write_bench(out: BinaryIO, bench: Bench, printing: Printing, *, paper: Paper) -> int:
    """Write a bench's list; returns the pages."""
    return write_bench_list(out, bench_sheet_of(bench, printing), paper=paper)


def bench_sheet_of(bench: Bench, printing: Printing) -> BenchSheet:
    """Return the bench's queue, sizes together: what the bench is set up for first, then by what is due first."""
    found = queue_of(bench, printing.person).defer("solution").prefetch_related("pieces")[:MOST]
    queue = [spool for spool in found if spool.bench_id == bench.id or fits(bench, spool)]
    welds = newest_welds(bench.shop_id, at=printing.at)
    sizes = dict.fromkeys([bench.set_up_nps, *(spool.nps for spool in queue)])
    setups = {nps: [spool for spool in queue if spool.nps == nps] for nps in sizes}
    job = queue[0].tie_in.job if queue else None
    shop = printing.person.the_shop
    return BenchSheet(
        heading=heading_for(printing, shop=shop, job=job),
        bench=f"Bench {bench.name}" if len(bench.name) < 4 else bench.name,
        shift=f"{printing.at.astimezone(shop.zone):%A %-d %B %Y}",
        people=welds.who.get(bench.id, ""),
        setups=tuple(
            Setup(say_size(nps), tuple(_line(spool, welds.hours) for spool in spools))
            for nps, spools in setups.items()
            if spools
        ),
    )


def _line(spool: Spool, learned: BenchHours) -> BenchLine:
    missing = [piece.mark for piece in spool.pieces.all() if piece.sawn and not piece.is_cut]
    return BenchLine(
        mark=spool.label,
        revision=spool.letter,
        nps=spool.nps,
        due=shop_clock(spool.due_at, spool.tie_in.job.shop),
        here=f"{', '.join(missing)} not cut" if missing else "all cut",
        hours=hours_left(spool, learned).hours,
        note=_note(spool),
    )


def _note(spool: Spool) -> str:
    words = ["RUSH"] if spool.rush else []
    words += [f"on hold: {hold.reason}" for hold in spool.the_standing.holds[-1:]]
    return ", ".join(words)
