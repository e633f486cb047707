"""Drawings and codes that are worked out once for a spool and then kept in the database.

A build's figures never change, so neither do its drawing and codes; placing every label clear of the others takes some
25 times as long as reading the finished drawing.
"""

import json
import logging
import zlib
from collections.abc import Callable

from django.db import DatabaseError, transaction

from cutlists.models import KeptDrawing
from cutlists.papers.shapes_text import drawing_text, read_drawing
from geometry.drawing.shapes import Drawing
from spools.models import Spool
from spools.queries.spool_drawing import DRAWN_BY
from spools.transactions import fingerprint

log = logging.getLogger(__name__)


def kept_drawing(spool: Spool, kind: str, *, size_mm: tuple[float, float], draw: Callable[[], Drawing]) -> Drawing:
    """Return a spool's drawing of a kind and size, drawn now if it never was."""
    drawn_from = fingerprint(spool.label, spool.inputs_hash, spool.reading.hand, DRAWN_BY, size_mm)
    return read_drawing(_kept(spool, kind, drawn_from, lambda: drawing_text(draw())))


def kept_codes(spool: Spool, address: str, encode: Callable[[], dict[str, str]]) -> dict[str, str]:
    """Return the matrices of a spool's codes by what is typed instead; ``address`` is where they all lead."""
    found: dict[str, str] = json.loads(_kept(spool, "codes", fingerprint(address), lambda: json.dumps(encode())))
    return found


def _kept(spool: Spool, kind: str, drawn_from: str, make: Callable[[], str]) -> str:
    for row in spool.kept_drawings.all():
        if row.kind == kind and row.drawn_from == drawn_from:
            return zlib.decompress(row.body).decode()
    text = make()
    row = KeptDrawing(spool=spool, kind=kind, drawn_from=drawn_from, body=zlib.compress(text.encode()))
    try:
        with transaction.atomic():
            KeptDrawing.objects.bulk_create(
                [row], update_conflicts=True, unique_fields=["spool", "kind"], update_fields=["drawn_from", "body"]
            )
    except DatabaseError as trouble:  # the paper comes out all the same
        log.warning("A drawing could not be kept: %s", trouble)
    return text
