"""Tags of drops and bars on the rack, from their rows."""

from collections.abc import Sequence
from dataclasses import replace
from typing import BinaryIO

from cutlists.models import StockBar
from cutlists.papers.heading import Printing, bar_code, heading_for
from cutlists.papers.words import schedule_words
from cutlists.sheets.drop_tag import DropTag, DropTagSheet, write_drop_tags
from cutlists.sheets.frame import LABEL_4X2, Paper
from geometry.tables import pipe
from spools.models import Job

FILM = LABEL_4X2


def write_tags_of(
    out: BinaryIO, bars: Sequence[StockBar], printing: Printing, *, paper: Paper, measured_as: Job | None
) -> int:
    """Write one tag for each bar or drop, in their order; returns the pages."""
    return write_drop_tags(out, tag_sheet_of(bars, printing, measured_as=measured_as), paper=paper)


def tag_sheet_of(bars: Sequence[StockBar], printing: Printing, *, measured_as: Job | None) -> DropTagSheet:
    """Return the values of the tags: lengths are what is on hand now, on the tape of the job ``measured_as``."""
    heading = heading_for(printing, shop=printing.person.the_shop, job=measured_as)
    return DropTagSheet(heading=replace(heading, job=""), tags=tuple(_tag(bar) for bar in bars))


def _tag(bar: StockBar) -> DropTag:
    return DropTag(
        number=bar.tag,
        nps=bar.nps,
        schedule=schedule_words(bar.schedule),
        material=bar.material,
        wall_mm=pipe(bar.nps, bar.schedule).wall_mm,
        length_mm=bar.length_mm,
        heat=bar.heat.number if bar.heat else "",
        rack=bar.rack,
        came_from=bar.cut_from.tag if bar.cut_from else "",
        code=bar_code(bar.tag),
    )
