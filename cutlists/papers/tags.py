"""The list of a batch of tags to stamp."""

from typing import BinaryIO

from cutlists.papers.heading import Printing, heading_for
from cutlists.sheets.frame import Paper
from cutlists.sheets.tag_list import TagSheet, write_tag_list
from spools.models import TagBatch


def write_tags(out: BinaryIO, batch: TagBatch, printing: Printing, *, paper: Paper) -> int:
    """Write the list of a batch, retired numbers left out; returns the pages."""
    sheet = TagSheet(
        heading=heading_for(printing, shop=printing.person.the_shop),
        batch=str(batch),
        tags=tuple(tag.number for tag in batch.tags.all() if tag.retired_at is None),
    )
    return write_tag_list(out, sheet, paper=paper)
