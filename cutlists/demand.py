"""The one bridge between rows and the nesting core: pieces and bars to a problem, a plan to bars with pieces."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from cutlists.models import StockBar
from cutlists.nesting.problem import Demand, Plan, Problem, Stock
from cutlists.units import PER_64TH, PER_INCH, to_units
from spools.models import Piece, Shop


@dataclass(frozen=True, slots=True)
class Supply:
    """What one real bar offers: a length from its marked end on, what opening it counts, whether it must be trimmed."""

    bar: StockBar
    length_u: int
    cost_u: int
    trimmed: bool

    @property
    def kind(self) -> str:
        """Bars that are alike for the plan have the same name here."""
        return f"{'D' if self.trimmed else 'B'}{self.length_u}/{self.cost_u}"


@dataclass(frozen=True, slots=True)
class BarCuts:
    """One real bar and the pieces to cut from it, in order."""

    bar: StockBar
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Day:
    """One pipe's pieces and bars as a problem, with the way back to the rows."""

    problem: Problem
    bars_of: dict[str, list[StockBar]]
    pieces_of: dict[str, list[Piece]]


def supply_of(bar: StockBar) -> Supply:
    """Return a whole bar as it lies there.

    The ends of a drop, and of a bar already cut into, are sawn: they aren't trimmed again, and taking them costs
    nothing.
    """
    opened = bar.is_opened
    return Supply(bar, bar.length_u, cost_u=0 if opened else bar.nominal_u, trimmed=opened)


def day_of(pieces: Sequence[Piece], supplies: Sequence[Supply], shop: Shop) -> Day:
    """Return the problem of one pipe size, schedule and material; what is listed first is taken first among alike."""
    alike: dict[str, list[Supply]] = defaultdict(list)
    for supply in supplies:
        if supply.length_u > 0:
            alike[supply.kind].append(supply)
    pieces_of: dict[str, list[Piece]] = defaultdict(list)
    for piece in pieces:
        pieces_of[f"L{to_units(piece.stock_mm)}"].append(piece)
    problem = Problem(
        kerf=shop.kerf_64ths * PER_64TH,
        trim=shop.end_trim_64ths * PER_64TH,
        keep_from=shop.keep_from_in * PER_INCH,
        stock=tuple(
            Stock(
                id=kind,
                length=found[0].length_u,
                count=len(found),
                cost=found[0].cost_u,
                remnant=found[0].cost_u == 0,
                trim=0 if found[0].trimmed else None,
            )
            for kind, found in sorted(alike.items())
        ),
        demand=tuple(
            Demand(id=kind, length=to_units(found[0].stock_mm), count=len(found))
            for kind, found in sorted(pieces_of.items())
        ),
    )
    bars_of = {kind: [supply.bar for supply in found] for kind, found in alike.items()}
    return Day(problem, bars_of, dict(pieces_of))


def bars_with_pieces(day: Day, plan: Plan) -> list[BarCuts]:
    """Give each bar of a plan real bars and real pieces, the bar with the most urgent piece first.

    Long pieces come first on a bar, so that the short end is the drop; among alike pieces the first given come first.
    """
    bars = {kind: list(reversed(found)) for kind, found in day.bars_of.items()}
    pieces = {kind: list(reversed(found)) for kind, found in day.pieces_of.items()}
    laid = [
        BarCuts(bars[bar.stock].pop(), tuple(pieces[kind].pop() for kind in kinds))
        for bar in plan.bars
        for kinds in [sorted(bar.cuts, key=lambda kind: (-day.problem.demand_by_id[kind].length, kind))]
        for _ in range(bar.times)
    ]
    return sorted(laid, key=lambda one: min(map(_urgency, one.pieces)))


def piece_names(day: Day, kinds: Sequence[str]) -> list[str]:
    """Return the pieces behind the lengths that the core could not place, as marks."""
    return [f"{piece.spool.label}-{piece.mark}" for kind in kinds for piece in day.pieces_of.get(kind, [])]


def _urgency(piece: Piece) -> tuple[bool, float, int]:
    return (not piece.spool.rush, piece.spool.due_at.timestamp(), piece.id)
