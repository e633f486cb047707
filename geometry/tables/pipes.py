"""Steel pipe by size and schedule: ASME B36.10M and B36.19M."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.odd_sizes import is_odd, read_odd, write_odd
from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size

STEEL_KG_PER_M_PER_MM2 = 0.0246615
"""Plain-end weight: 0.0246615 (D - t) t kg/m with D and t in mm (ASME B36.10M; pi x 7850 kg/m3)."""


@dataclass(frozen=True, slots=True)
class PipeRow:
    """One pipe. Its mm are inches x 25.4: the printed metric OD of NPS 18, 22 and 24 is rounded by up to 0.4 mm."""

    nps: str
    dn: int
    schedule: str
    od_mm: float
    wall_mm: float
    id_mm: float
    kg_per_m: float
    od_in: float
    wall_in: float
    source: str
    confidence: str

    @property
    def name(self) -> str:
        """The pipe as it is called: NPS 4 SCH 40, NPS 4 STD."""
        if is_odd(self.nps):
            return f"{self.od_in:g} in OD, {self.wall_in:g} in wall"
        prefix = "" if self.schedule in ("STD", "XS") else "SCH "
        return f"NPS {self.nps} {prefix}{self.schedule}"


def pipe(nps: str, schedule: str) -> PipeRow:
    """Return the pipe of a nominal size and schedule.

    >>> row = pipe("4", "40")
    >>> row.od_mm, round(row.id_mm, 3), round(row.kg_per_m, 2)
    (114.3, 102.26, 16.07)

    An odd size is written with its outside diameter and wall: ``pipe("OD 5.25", "W 0.25")``.

    Raises UnknownPipe, which names the sizes or schedules there are.
    """
    if is_odd(nps):
        return _odd(nps, schedule)
    size = nominal_size(nps)
    known = _pipes()[size]
    row = known.get(_plain_schedule(schedule))
    if row is None:
        raise UnknownPipe(f'No schedule "{schedule}" in NPS {size}: choose {", ".join(known)}.')
    return row


def schedules(nps: str) -> tuple[str, ...]:
    """Return the schedules there are in a nominal size.

    >>> schedules("22")
    ('10S', '10', 'STD', '80', 'XS')

    Raises UnknownPipe, which names the sizes there are.
    """
    return tuple(_pipes()[nominal_size(nps)])


def all_pipes() -> tuple[PipeRow, ...]:
    """Return every pipe of the table."""
    return tuple(row for by_schedule in _pipes().values() for row in by_schedule.values())


def _odd(nps: str, schedule: str) -> PipeRow:
    od_in, wall_in = read_odd(nps, schedule)
    written = write_odd(od_mm=od_in * 25.4, wall_mm=wall_in * 25.4)
    od_mm, wall_mm = od_in * 25.4, wall_in * 25.4
    return PipeRow(
        nps=written[0],
        dn=round(od_mm),
        schedule=written[1],
        od_mm=od_mm,
        wall_mm=wall_mm,
        id_mm=od_mm - 2 * wall_mm,
        kg_per_m=STEEL_KG_PER_M_PER_MM2 * (od_mm - wall_mm) * wall_mm,
        od_in=od_in,
        wall_in=wall_in,
        source="measured by the shop",
        confidence="measured",
    )


def _plain_schedule(written: str) -> str:
    plain = str(written).strip().upper().replace(".", "").replace("SCHEDULE", "SCH")
    return plain.removeprefix("SCH").strip().removeprefix("S-")


@cache
def _pipes() -> dict[str, dict[str, PipeRow]]:
    by_size: dict[str, dict[str, PipeRow]] = {}
    for cells in read_rows("pipe"):
        by_size.setdefault(cells["nps"], {})[cells["schedule"]] = _row(cells)
    return by_size


def _row(cells: dict[str, str]) -> PipeRow:
    od_mm, wall_mm = inches_to_mm(cells["od_in"]), inches_to_mm(cells["wall_in"])
    return PipeRow(
        nps=cells["nps"],
        dn=int(cells["dn"]),
        schedule=cells["schedule"],
        od_mm=od_mm,
        wall_mm=wall_mm,
        id_mm=od_mm - 2 * wall_mm,
        kg_per_m=STEEL_KG_PER_M_PER_MM2 * (od_mm - wall_mm) * wall_mm,
        od_in=float(cells["od_in"]),
        wall_in=float(cells["wall_in"]),
        source=cells["source"],
        confidence=cells["confidence"],
    )
