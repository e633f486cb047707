"""Butt-weld elbows and returns: ASME B16.9."""

from dataclasses import dataclass
from functools import cache

from geometry.tables.rows import inches_to_mm, read_rows
from geometry.tables.sizes import UnknownPipe, nominal_size


@dataclass(frozen=True, slots=True)
class ElbowRow:
    """One fitting: `standard_mm` is its center-to-end, or center-to-center where it is a 180 return.

    A whole 45 is not bend radius x tan 22.5 in many sizes: use `standard_mm` for a whole fitting only, and the
    bend radius for one that is trimmed.
    """

    nps: str
    kind: str
    turn_deg: float
    bend_radius_mm: float
    dimension: str
    standard_mm: float
    note: str
    source: str
    confidence: str


ELBOW_KINDS = ("LR90", "LR45", "SR90", "LR180", "SR180")


def elbow(nps: str, kind: str) -> ElbowRow:
    """Return the elbow of a nominal size and kind (LR90, LR45, SR90, LR180, SR180).

    >>> round(elbow("4", "LR90").bend_radius_mm, 1), round(elbow("1", "LR45").standard_mm, 2)
    (152.4, 22.35)

    Raises UnknownPipe, which names the kinds or sizes there are.
    """
    size = nominal_size(nps)
    row = _elbows().get((size, kind.upper()))
    if row is not None:
        return row
    if kind.upper() not in ELBOW_KINDS:
        raise UnknownPipe(f'No elbow kind "{kind}": choose {", ".join(ELBOW_KINDS)}.')
    there = ", ".join(known for known in ELBOW_KINDS if (size, known) in _elbows())
    raise UnknownPipe(f"ASME B16.9 has no {kind.upper()} in NPS {size}: choose {there}.")


def all_elbows() -> tuple[ElbowRow, ...]:
    """Return every elbow of the table."""
    return tuple(_elbows().values())


@cache
def _elbows() -> dict[tuple[str, str], ElbowRow]:
    return {(cells["nps"], cells["kind"]): _row(cells) for cells in read_rows("elbows")}


def _row(cells: dict[str, str]) -> ElbowRow:
    return ElbowRow(
        nps=cells["nps"],
        kind=cells["kind"],
        turn_deg=float(cells["turn_deg"]),
        bend_radius_mm=inches_to_mm(cells["bend_radius_in"]),
        dimension=cells["dimension"],
        standard_mm=inches_to_mm(cells["standard_in"]),
        note=cells["note"],
        source=cells["source"],
        confidence=cells["confidence"],
    )
