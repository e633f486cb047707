"""The flanges of a spool: bought, and welded on by the shop; the geometry knows them only as what an end takes."""

from dataclasses import dataclass
from typing import Any

from spools.flow.routes import end_target

WORDS = {"flanged_slip_on": "slip-on flange", "flanged_weld_neck": "weld-neck flange"}


@dataclass(frozen=True, slots=True)
class Flange:
    """One flange: ``mark`` is ``FA`` or ``FB``, ``on`` the piece that carries it, ``target`` the end it is welded to.

    ``weld`` says how: a slip-on takes a fillet at its face and one at its hub, and no root gap.
    """

    mark: str
    words: str
    flange_class: str
    on: str
    target: str
    weld: str
    gap_mm: float | None


def flanges_of(solution: dict[str, Any]) -> tuple[Flange, ...]:
    """Return the flanges of a stored solution, end A's first."""
    asked, pieces = solution["request"], solution["answer"]["pieces"]
    found = []
    for name in "AB":
        end = asked[f"end_{name.lower()}"]
        if end["prep"] not in WORDS:
            continue
        own_gap = end["root_gap_mm"]
        butt = end["prep"] == "flanged_weld_neck"
        on, number = next(
            (piece["mark"], number)
            for piece in pieces
            for number, made in enumerate(piece["ends"], start=1)
            if made["at"] == f"end {name}"
        )
        found.append(
            Flange(
                mark=f"F{name}",
                words=WORDS[end["prep"]],
                flange_class=end["flange_class"],
                on=on,
                target=end_target(on, number),
                weld="butt" if butt else "two fillets",
                gap_mm=(asked["root_gap_mm"] if own_gap is None else own_gap) if butt else None,
            )
        )
    return tuple(found)
