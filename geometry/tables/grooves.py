"""Roll grooves in steel pipe: AWWA C606."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size


@dataclass(frozen=True, slots=True)
class GrooveRow:
    """One roll groove. Gaps are generic trade values: the sheet of the coupling bought governs."""

    nps: str
    od_mm: float
    gasket_seat_mm: float
    groove_width_mm: float
    groove_diameter_mm: float
    groove_diameter_minus_mm: float
    groove_depth_mm: float
    minimum_wall_mm: float
    largest_flare_mm: float
    square_cut_mm: float
    flexible_gap_mm: float
    flexible_deflection_deg: float
    rigid_gap_mm: float
    gap_confidence: str
    gap_note: str
    source: str
    confidence: str


def groove(nps: str) -> GrooveRow:
    """Return the roll groove of a nominal size.

    >>> row = groove("4")
    >>> round(row.groove_diameter_mm, 2), round(row.minimum_wall_mm, 2)
    (110.08, 2.11)

    Raises UnknownPipe, which names the sizes there are.
    """
    size = nominal_size(nps)
    row = _grooves().get(size)
    if row is None:
        raise UnknownPipe(
            f"No roll groove in the table for NPS {size}: choose {', '.join(_grooves())}, or another end."
        )
    return row


def all_grooves() -> tuple[GrooveRow, ...]:
    """Return every roll groove of the table."""
    return tuple(_grooves().values())


@cache
def _grooves() -> dict[str, GrooveRow]:
    return {cells["nps"]: _row(cells) for cells in read_rows("grooves")}


def _row(cells: dict[str, str]) -> GrooveRow:
    return GrooveRow(
        nps=cells["nps"],
        od_mm=inches_to_mm(cells["od_in"]),
        gasket_seat_mm=inches_to_mm(cells["gasket_seat_a_in"]),
        groove_width_mm=inches_to_mm(cells["groove_width_b_in"]),
        groove_diameter_mm=inches_to_mm(cells["groove_dia_c_in"]),
        groove_diameter_minus_mm=inches_to_mm(cells["c_tol_minus_in"]),
        groove_depth_mm=inches_to_mm(cells["groove_depth_d_ref_in"]),
        minimum_wall_mm=inches_to_mm(cells["min_wall_in"]),
        largest_flare_mm=inches_to_mm(cells["max_flare_dia_in"]),
        square_cut_mm=inches_to_mm(cells["square_cut_max_in"]),
        flexible_gap_mm=inches_to_mm(cells["flexible_gap_max_in"]),
        flexible_deflection_deg=float(cells["flexible_deflection_design_deg"]),
        rigid_gap_mm=inches_to_mm(cells["rigid_gap_typ_max_in"]),
        gap_confidence=cells["gap_confidence"],
        gap_note=cells["gap_note"],
        source=cells["source"],
        confidence=cells["confidence"],
    )
