"""Plan the saw's work: which piece from which bar, proven best where it can be."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max

from cutlists.comparison import compared
from cutlists.demand import BarCuts, Day, bars_with_pieces, day_of, piece_names, supply_of
from cutlists.laying_out import lay_out
from cutlists.models import Cut, CutPlan, StockBar
from cutlists.nesting.problem import NotEnoughStock, Plan
from cutlists.nesting.solve import solve
from cutlists.stockroom import lock_bars
from geometry.tables.odd_sizes import say_pipe
from spools.errors import ShopError, invalid, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Heat, Person, Piece, Shop
from spools.queries.machines import no_machine_takes
from spools.transactions import all_or_nothing

WHO = frozenset({Role.CUTTER, Role.FOREMAN})
Group = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class _Solved:
    """One pipe's plan before it is written."""

    group: Group
    pieces: list[Piece]
    heat: Heat | None
    day: Day
    plan: Plan
    layout: list[BarCuts]


def plan_cuts(
    *,
    spool_ids: Sequence[int],
    person: Person,
    key: str,
    at: datetime,
    seconds: float = 10.0,
    one_heat: Mapping[Group, int] | None = None,
) -> list[CutPlan]:
    """Plan all uncut, unplanned pipe of these spools, one plan for each pipe size, schedule and material.

    ``one_heat`` names, for a pipe that must come of one melt, the only heat its plan may cut from.
    The solving (``seconds`` for each) runs outside any transaction; the writing is one transaction that checks that
    bars and pieces are still free.
    Raises ``ShopError``: not_your_role, invalid, no_saw_takes_it, not_enough_stock (naming the pieces),
    taken_meanwhile.
    """
    if not person.may(WHO):
        raise not_your_role("Plan cuts", say_roles(WHO))
    done = plans_of(key, person)
    if done:
        return done
    groups = pieces_to_plan(spool_ids, person)
    if not groups:
        raise invalid(
            {"spools": "Choose spools with pipe still to cut and not planned yet."}, "There is nothing to plan."
        )
    _must_go_in_the_saw(groups, person)
    shop = Shop.objects.get(id=person.the_shop_id)
    heats = _heats(one_heat or {}, shop)
    solved = [_solve(group, pieces, shop, seconds, heats.get(group)) for group, pieces in sorted(groups.items())]
    return _write(solved, person=person, key=key, at=at)


def _must_go_in_the_saw(groups: Mapping[Group, list[Piece]], person: Person) -> None:
    for (nps, schedule, _), pieces in groups.items():
        for words in no_machine_takes(person, {"cut"}, nps=nps, schedule=schedule):
            marks = ", ".join(sorted({piece.spool.label for piece in pieces}))
            raise ShopError(
                "no_saw_takes_it", words, f"Untick {marks}: it is cut elsewhere, and told on its own page.", status=422
            )


def plans_of(key: str, person: Person) -> list[CutPlan]:
    """Return the plans that a key has made already."""
    return list(CutPlan.objects.for_person(person).filter(key__startswith=f"{key}:").order_by("number"))


def pieces_to_plan(spool_ids: Sequence[int], person: Person) -> dict[Group, list[Piece]]:
    """Return the pipe pieces of these spools that are in no plan, by size, schedule and material."""
    pieces = (
        Piece.objects.filter(
            spool_id__in=set(spool_ids), spool__shop_id=person.the_shop_id, spool__live=True, spool__hold_count=0
        )
        .filter(sawn=True, is_cut=False, stock_mm__gt=0)
        .exclude(cuts__state=Cut.State.PLANNED)
        .select_related("spool__tie_in", "spool__bench")
        .defer("spool__solution", "spool__route")
        .order_by("-spool__rush", "spool__due_at", "id")
    )
    groups: dict[Group, list[Piece]] = defaultdict(list)
    for piece in pieces:
        groups[piece.nps, piece.schedule, piece.material].append(piece)
    return dict(groups)


def free_bars(group: Group, shop: Shop, heat: Heat | None = None) -> list[StockBar]:
    """Return the bars and drops of one pipe, and of one heat if it is named, that no plan has; the oldest first."""
    nps, schedule, material = group
    bars = StockBar.objects.filter(
        shop=shop, nps=nps, schedule=schedule, material=material, state=StockBar.State.IN_STOCK, length_u__gt=0
    )
    return list((bars.filter(heat=heat) if heat else bars).order_by("id"))


def _heats(one_heat: Mapping[Group, int], shop: Shop) -> dict[Group, Heat]:
    found = {heat.id: heat for heat in Heat.objects.filter(shop=shop, id__in=set(one_heat.values()))}
    if set(one_heat.values()) - set(found):
        raise invalid({"one_heat": "That heat is not in the stock of this shop: choose one of the list, or any heat."})
    return {group: found[heat_id] for group, heat_id in one_heat.items()}


def _solve(group: Group, pieces: list[Piece], shop: Shop, seconds: float, heat: Heat | None) -> _Solved:
    bars = free_bars(group, shop, heat)
    day = day_of(pieces, [supply_of(bar) for bar in bars], shop)
    try:
        plan = solve(day.problem, seconds=seconds)
    except NotEnoughStock as refusal:
        raise not_enough(group, piece_names(day, refusal.pieces), heat) from refusal
    return _Solved(group, pieces, heat, day, plan, bars_with_pieces(day, plan))


@all_or_nothing
def _write(solved: list[_Solved], *, person: Person, key: str, at: datetime) -> list[CutPlan]:
    bars = lock_bars([laid.bar.id for one in solved for laid in one.layout])
    Shop.objects.select_for_update().get(id=person.the_shop_id)  # plan numbers are drawn one at a time
    done = plans_of(key, person)
    if done:
        return done
    pieces = [piece.id for one in solved for piece in one.pieces]
    _still_free(bars, pieces)
    # A cut that was taken back on the spool's own page leaves its row behind: its steel is gone, the piece is open.
    Cut.objects.filter(piece_id__in=pieces, state=Cut.State.DONE).update(state=Cut.State.WITHDRAWN)
    newest = CutPlan.objects.filter(shop_id=person.the_shop_id).aggregate(n=Max("number"))["n"] or 0
    return [
        _write_one(one, newest + place, bars, person=person, key=f"{key}:{place}", at=at)
        for place, one in enumerate(solved, start=1)
    ]


def _still_free(bars: dict[int, StockBar], pieces: list[int]) -> None:
    taken = (
        any(bar.state != StockBar.State.IN_STOCK for bar in bars.values())
        or Cut.objects.filter(piece_id__in=pieces, state=Cut.State.PLANNED).exists()
        or Piece.objects.filter(id__in=pieces, is_cut=True).exists()
    )
    if taken:
        raise taken_meanwhile()


def _write_one(
    one: _Solved, number: int, bars: dict[int, StockBar], *, person: Person, key: str, at: datetime
) -> CutPlan:
    problem, plan = one.day.problem, one.plan
    row = CutPlan.objects.create(
        shop_id=person.the_shop_id,
        number=number,
        nps=one.group[0],
        schedule=one.group[1],
        material=one.group[2],
        one_heat=one.heat,
        made_by=person,
        made_at=at,
        kerf_u=problem.kerf,
        trim_u=problem.trim,
        keep_from_u=problem.keep_from,
        new_stock_u=plan.stock_length_used,
        lower_bound_u=plan.lower_bound,
        scrap_u=plan.scrap,
        proven=plan.proven,
        verdict=plan.word[:80],
        seconds=plan.seconds,
        compared=compared(one.day, one.pieces, plan),
        key=key,
    )
    lay_out(row, one.layout, bars, person=person, key=key, at=at)
    return row


def not_enough(group: Group, names: list[str], heat: Heat | None = None) -> ShopError:
    """Refuse for lack of pipe, naming the pieces that are left over."""
    shown = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    of_heat = f" of heat {heat}" if heat else ""
    return ShopError(
        "not_enough_stock",
        f"There is not enough {say_pipe(group[0], group[1])} {group[2]}{of_heat} in stock for {shown}.",
        "Take any heat, or plan fewer spools." if heat else "Receive bars first, or plan fewer spools.",
        status=422,
        facts={"pieces": names, "group": list(group)},
    )


def taken_meanwhile() -> ShopError:
    """Somebody changed what the plan was made from."""
    return ShopError("taken_meanwhile", "Somebody planned or cut some of this meanwhile.", "Tap once more.")
