"""Zinc coating that the galvanizer must reach, by kind and thickness of steel: ASTM A123."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from geometry.tables.rows import read_rows

Steel = Literal["pipe", "plate", "shape"]

ZINC_G_PER_M2_PER_UM = 7.07
"""Zinc on a surface, g/m2 for each micrometer. Source: ASTM A153/A153M, Note 2."""


@dataclass(frozen=True, slots=True)
class CoatingRow:
    """The minimum average coating of one kind of steel in one range of thickness."""

    steel: str
    thickness_from_mm: float
    thickness_below_mm: float
    minimum_um: float
    note: str
    source: str
    confidence: str


def coating(*, thickness_mm: float, steel: Steel = "pipe") -> CoatingRow:
    """Return the minimum average coating for a thickness of steel in mm.

    >>> coating(thickness_mm=6.02).minimum_um, coating(thickness_mm=3.05).minimum_um
    (75.0, 45.0)

    Raises ValueError for a thickness that isn't above zero or an unknown kind of steel.
    """
    for row in all_coatings():
        if row.steel == steel and row.thickness_from_mm <= thickness_mm < row.thickness_below_mm and thickness_mm > 0:
            return row
    raise ValueError(
        f"No zinc coating for {steel} of {thickness_mm:g} mm: choose pipe, plate or shape and check the wall."
    )


@cache
def all_coatings() -> tuple[CoatingRow, ...]:
    """Return every row of the table."""
    return tuple(
        CoatingRow(
            steel=cells["steel"],
            thickness_from_mm=float(cells["thickness_from_mm"]),
            thickness_below_mm=float(cells["thickness_below_mm"] or "inf"),
            minimum_um=float(cells["minimum_um"]),
            note=cells["note"],
            source=cells["source"],
            confidence=cells["confidence"],
        )
        for cells in read_rows("zinc_coating")
    )
