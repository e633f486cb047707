"""A spool as the page turns it in the hand: the stored solution's points and words, as plain values."""

from dataclasses import asdict
from typing import Any

from geometry.drawing.solid import solid_of
from spools.models import Spool
from spools.queries.spool_drawing import described


def solid_values(spool: Spool) -> dict[str, Any]:
    """Return the solid of a spool's stored solution, lengths in mm and texts in the job's own units."""
    values = asdict(solid_of(described(spool)))
    return values | {"up_words": spool.reading.up_mark, "hand_words": hand_words(spool)}


def hand_words(spool: Spool) -> str:
    """Return which way the first turn goes, in words."""
    if spool.reading.line:
        return "The roll between the bends sets the hand"
    if spool.reading.hand:
        return spool.reading.get_hand_display().capitalize()
    return "Hand not recorded: the spool may be the mirror image"
