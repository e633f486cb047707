"""What if another length were bought: how many bars of it the day's pipe would take, beside what lies in the rack."""

from collections.abc import Sequence
from dataclasses import dataclass

from cutlists.actions.plan_cuts import free_bars
from cutlists.demand import day_of, supply_of
from cutlists.nesting.problem import NotEnoughStock, Problem, Stock
from cutlists.nesting.solve import solve
from cutlists.queries.plan import ToPlanGroup
from cutlists.units import to_mm, to_units_down
from spools.models import Shop

SECONDS = 1.5
BOUGHT = "bought"


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The answer for one pipe: bars to buy, drops and bars of our own that help, scrap, and how sure that is."""

    nps: str
    schedule: str
    material: str
    to_buy: int
    from_rack: int
    scrap_mm: float
    word: str
    too_short_mm: float = 0.0


def what_if(groups: Sequence[ToPlanGroup], length_mm: float, shop: Shop) -> tuple[WhatIf, ...]:
    """Return what each pipe would take if bars of this length could be bought as needed; nothing is written."""
    return tuple(_one(group, length_mm, shop) for group in groups)


def _one(group: ToPlanGroup, length_mm: float, shop: Shop) -> WhatIf:
    pieces = [piece for _, rows in group.spools for piece in rows]
    name = (group.nps, group.schedule, group.material)
    day = day_of(pieces, [supply_of(bar) for bar in free_bars(name, shop)], shop)
    problem = Problem(
        kerf=day.problem.kerf,
        trim=day.problem.trim,
        keep_from=day.problem.keep_from,
        # What lies in the rack is paid for: it counts nothing, what must be bought counts its length.
        stock=(
            *(Stock(one.id, one.length, one.count, remnant=True, trim=one.trim) for one in day.problem.stock),
            Stock(BOUGHT, to_units_down(length_mm)),
        ),
        demand=day.problem.demand,
    )
    try:
        plan = solve(problem, seconds=SECONDS)
    except NotEnoughStock:
        return WhatIf(*name, 0, 0, 0.0, "", too_short_mm=max(piece.stock_mm for piece in pieces))
    to_buy = sum(bar.times for bar in plan.bars if bar.stock == BOUGHT)
    return WhatIf(*name, to_buy, plan.bars_used - to_buy, to_mm(plan.scrap), plan.word)
