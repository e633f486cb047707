"""Welding bevels by wall and root process: ASME B16.25."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from geometry.tables.rows import inches_to_mm, number_or_none, read_rows

RootProcess = Literal["SMAW", "GTAW"]

ROOT_GAP_MM = 2.38125
"""3/32 in, the shop's usual root gap; the welding procedure governs. Common practice, no source."""

_SLACK_MM = 1e-9


@dataclass(frozen=True, slots=True)
class BevelRow:
    """The bevel of one range of wall; degrees and land are None where the end is left square."""

    process: str
    wall_over_mm: float
    wall_to_mm: float
    form: str
    bevel_deg: float | None
    bevel_plus_deg: float | None
    bevel_minus_deg: float | None
    second_bevel_deg: float | None
    break_height_mm: float | None
    land_mm: float | None
    usual_root_gap_in: str
    note: str
    source: str
    confidence: str


def bevel(*, wall_mm: float, process: RootProcess = "SMAW") -> BevelRow:
    """Return the bevel for a wall in mm and the process of the root pass (SMAW stands for GMAW too).

    >>> row = bevel(wall_mm=6.02)
    >>> row.form, row.bevel_deg
    ('single bevel', 37.5)

    Raises ValueError for a wall that isn't above zero or an unknown process.
    """
    rows = [row for row in all_bevels() if row.process == process]
    if not rows or process not in ("SMAW", "GTAW"):
        raise ValueError(f'No root process "{process}": choose SMAW or GTAW.')
    for row in rows:
        if row.wall_over_mm + _SLACK_MM < wall_mm <= row.wall_to_mm + _SLACK_MM:
            return row
    raise ValueError(f"A wall of {wall_mm:g} mm can't be beveled: check the pipe.")


@cache
def all_bevels() -> tuple[BevelRow, ...]:
    """Return every bevel of the table, those of mill ends (process MILL) too."""
    return tuple(_row(cells) for cells in read_rows("bevels"))


def _row(cells: dict[str, str]) -> BevelRow:
    return BevelRow(
        process=cells["process"],
        wall_over_mm=inches_to_mm(cells["wall_over_in"]),
        wall_to_mm=inches_to_mm(cells["wall_to_in"] or "inf"),
        form=cells["form"],
        bevel_deg=number_or_none(cells["bevel_deg"]),
        bevel_plus_deg=number_or_none(cells["bevel_plus_deg"]),
        bevel_minus_deg=number_or_none(cells["bevel_minus_deg"]),
        second_bevel_deg=number_or_none(cells["second_bevel_deg"]),
        break_height_mm=_mm_or_none(cells["break_height_in"]),
        land_mm=_mm_or_none(cells["land_in"]),
        usual_root_gap_in=cells["usual_root_gap_in"],
        note=cells["note"],
        source=cells["source"],
        confidence=cells["confidence"],
    )


def _mm_or_none(written: str) -> float | None:
    return inches_to_mm(written) if written else None
