"""What the same day would take if it were cut the plain ways: in ticket order, and longest first."""

from collections.abc import Sequence
from dataclasses import dataclass

from cutlists.demand import Day
from cutlists.nesting.first_fit import Run, decreasing, first_fit, preferences
from cutlists.nesting.problem import NotEnoughStock, Plan
from cutlists.nesting.reduced import Layout, Reduced, reduce
from cutlists.units import to_units
from spools.models import Piece

WAYS = {"ticket_order": "in ticket order", "first_fit": "longest piece first"}


@dataclass(frozen=True, slots=True)
class Way:
    """One way of cutting: new stock and scrap in saw units, bars opened; ``bars`` is 0 where the stock runs out."""

    code: str
    new_stock_u: int
    scrap_u: int
    bars: int


def plain_ways(day: Day, pieces: Sequence[Piece]) -> tuple[Way, ...]:
    """Return both plain ways, each with the best of the orders in which a saw hand may open bars."""
    try:
        reduced = reduce(day.problem)
    except NotEnoughStock:
        return ()
    runs = {"ticket_order": _as_they_come(reduced, pieces), "first_fit": decreasing(reduced)}
    return tuple(_way(code, reduced, run) for code, run in runs.items())


def compared(day: Day, pieces: Sequence[Piece], plan: Plan) -> dict[str, dict[str, int]]:
    """Return the plan and both plain ways as plain values for a JSON column."""
    ways = (*plain_ways(day, pieces), Way("plan", plan.stock_length_used, plan.scrap, plan.bars_used))
    return {way.code: {"new_stock_u": way.new_stock_u, "scrap_u": way.scrap_u, "bars": way.bars} for way in ways}


def _as_they_come(reduced: Reduced, pieces: Sequence[Piece]) -> list[Run]:
    number = {name: item for item, names in enumerate(reduced.pieces) for name, _ in names}
    return [(number[f"L{to_units(piece.stock_mm)}"], 1) for piece in pieces]


def _way(code: str, reduced: Reduced, runs: list[Run]) -> Way:
    tries = (first_fit(reduced, runs, preference) for preference in preferences(reduced))
    layouts = [layout for layout in tries if layout is not None and not _runs_out(reduced, layout)]
    if not layouts:
        return Way(code, 0, 0, 0)
    best = min(layouts, key=reduced.levels)
    return Way(code, reduced.levels(best)[0], _scrap(reduced, best), sum(best.values()))


def _runs_out(reduced: Reduced, layout: Layout) -> bool:
    return any(kind == reduced.shortfall for kind, _ in layout)


def _scrap(reduced: Reduced, layout: Layout) -> int:
    drops = [(reduced.drop(kind, reduced.filled(counts)), times) for (kind, counts), times in layout.items()]
    return sum(drop * times for drop, times in drops if drop < reduced.keep_from)
