"""Weld-neck flanges: length through hub, ASME B16.5 class 150."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size


@dataclass(frozen=True, slots=True)
class WeldNeckRow:
    """One weld-neck flange: from its face, with the 1/16 in raised face, to its bevel."""

    nps: str
    flange_class: str
    face_to_bevel_mm: float
    note: str
    source: str
    confidence: str


def weld_neck(nps: str, *, flange_class: str = "150") -> WeldNeckRow:
    """Return the weld-neck flange of a nominal size and class.

    >>> round(weld_neck("4").face_to_bevel_mm, 1)
    76.2

    Raises UnknownPipe where the table has none.
    """
    size = nominal_size(nps)
    row = _weld_necks().get((size, str(flange_class)))
    if row is None:
        raise UnknownPipe(f"No weld-neck length in the table for NPS {size} class {flange_class}: measure the flange.")
    return row


def all_weld_necks() -> tuple[WeldNeckRow, ...]:
    """Return every weld-neck flange of the table."""
    return tuple(_weld_necks().values())


@cache
def _weld_necks() -> dict[tuple[str, str], WeldNeckRow]:
    return {
        (cells["nps"], cells["flange_class"]): WeldNeckRow(
            nps=cells["nps"],
            flange_class=cells["flange_class"],
            face_to_bevel_mm=inches_to_mm(cells["face_to_bevel_in"]),
            note=cells["note"],
            source=cells["source"],
            confidence=cells["confidence"],
        )
        for cells in read_rows("weld_necks")
    }
