"""What the trade allows: spool and fitting tolerances, miter limits, least fall of drains."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size, nps_inches


@dataclass(frozen=True, slots=True)
class ToleranceRow:
    """One allowance over a range of sizes; `unit` is in, deg or in per ft, as the source prints it."""

    item: str
    nps_from: str
    nps_to: str
    value: float
    unit: str
    note: str
    source: str
    confidence: str

    @property
    def mm(self) -> float:
        """The value in mm; raises ValueError where it isn't a length."""
        if self.unit != "in":
            raise ValueError(f"{self.item} is in {self.unit}, not a length: use its value.")
        return inches_to_mm(str(self.value))


def tolerance(item: str, nps: str) -> ToleranceRow:
    """Return what is allowed for an item in a nominal size.

    >>> tolerance("spool_linear", "4").mm, tolerance("drain_least_fall", "8").value
    (3.175, 0.0625)

    Raises UnknownPipe for a size or an item that the table doesn't have.
    """
    inches = nps_inches(nominal_size(nps))
    for row in all_tolerances():
        if row.item == item and nps_inches(row.nps_from) <= inches <= nps_inches(row.nps_to):
            return row
    known = sorted({row.item for row in all_tolerances()})
    raise UnknownPipe(f'No tolerance "{item}" for NPS {nps}: there are {", ".join(known)}.')


@cache
def all_tolerances() -> tuple[ToleranceRow, ...]:
    """Return every row of the table."""
    return tuple(
        ToleranceRow(
            item=cells["item"],
            nps_from=cells["nps_from"],
            nps_to=cells["nps_to"],
            value=float(cells["value"]),
            unit=cells["unit"],
            note=cells["note"],
            source=cells["source"],
            confidence=cells["confidence"],
        )
        for cells in read_rows("tolerances")
    )
