"""What is left of a plan, solved again: only the bars that are named may change, the others lend what they leave."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from cutlists.actions.finish_bar import leave_bar
from cutlists.actions.plan_cuts import free_bars, taken_meanwhile
from cutlists.demand import BarCuts, Day, Supply, bars_with_pieces, day_of, supply_of
from cutlists.laying_out import lay_out, left_over_u
from cutlists.models import Cut, CutPlan, StockBar
from cutlists.nesting.problem import Plan
from cutlists.nesting.record import Progress
from cutlists.nesting.solve import solve
from cutlists.stockroom import keep_bar, lock_bars, sub_key
from cutlists.units import to_units
from spools.models import Person, Piece

CHANGED = "changed at the saw; before: "


@dataclass(frozen=True, slots=True)
class Rest:
    """The uncut pieces that may move, in the order they were planned, and every bar that may take them."""

    plan: CutPlan
    pieces: tuple[Piece, ...]
    moving: frozenset[int]
    supplies: tuple[Supply, ...]
    seen: dict[int, tuple[str, int]]

    @property
    def day(self) -> Day:
        """The rest as a problem."""
        return day_of(self.pieces, self.supplies, self.plan.shop)


def read_rest(
    plan: CutPlan,
    bars: Iterable[StockBar],
    *,
    more: Sequence[Piece] = (),
    as_if: dict[int, Supply] | None = None,
) -> Rest:
    """Return what planning again would start from.

    Args:
        plan: the plan, with its shop.
        bars: the bars of the plan whose uncut pieces may move.
        more: pieces that join, such as one that was cut wrong.
        as_if: what bars will offer once the deed at hand is booked.
    """
    known = as_if or {}
    moving = {bar.id: bar for bar in bars}
    planned: dict[int, list[Cut]] = defaultdict(list)
    for cut in (
        plan.cuts.filter(state=Cut.State.PLANNED)
        .select_related("bar", "piece__spool__tie_in")
        .defer("piece__spool__solution", "piece__spool__route")
    ):
        planned[cut.bar_id].append(cut)
    standing = {id_: cuts[0].bar for id_, cuts in planned.items() if id_ not in moving}
    supplies = [known.get(bar.id) or supply_of(bar) for bar in moving.values()]
    supplies += [Supply(bar, left_over_u(bar, plan, planned[id_]), 0, trimmed=True) for id_, bar in standing.items()]
    free = free_bars((plan.nps, plan.schedule, plan.material), plan.shop, plan.one_heat)
    supplies += [known.get(bar.id) or supply_of(bar) for bar in free]
    moved = [cut.piece for id_ in moving for cut in planned.get(id_, []) if not cut.piece.is_cut]
    pieces = [piece for piece in (*more, *moved) if piece.spool.live]
    seen = {supply.bar.id: (supply.bar.state, supply.bar.length_u) for supply in supplies}
    return Rest(plan, tuple(dict.fromkeys(pieces)), frozenset(moving), tuple(supplies), seen)


def solve_rest(
    rest: Rest,
    *,
    seconds: float,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[Plan, list[BarCuts]]:
    """Solve the rest. Raises ``NotEnoughStock``."""
    day = rest.day
    found = solve(day.problem, seconds=seconds, progress=progress, cancelled=cancelled)
    return found, bars_with_pieces(day, found)


def in_order(rest: Rest) -> list[BarCuts]:
    """Keep the moving pieces where they fit, in their order: what is done where the stock doesn't suffice."""
    left = {s.bar.id: s.length_u - (0 if s.trimmed else rest.plan.trim_u) for s in rest.supplies}
    room = [s.bar for s in rest.supplies if left[s.bar.id] > 0]
    laid: dict[int, list[Piece]] = defaultdict(list)
    for piece in rest.pieces:
        length_u = to_units(piece.stock_mm)
        bar = next((bar for bar in room if left[bar.id] >= length_u), None)
        if bar is not None:
            laid[bar.id].append(piece)
            left[bar.id] -= length_u + rest.plan.kerf_u
    return [BarCuts(bar, tuple(laid[bar.id])) for bar in room if bar.id in laid]


def lock_rest(rest: Rest, layout: Sequence[BarCuts]) -> dict[int, StockBar]:
    """Lock the bars that change, then the plan. Raises ``ShopError`` taken_meanwhile where one is not as it was."""
    bars = lock_bars([*rest.moving, *(laid.bar.id for laid in layout)])
    CutPlan.objects.select_for_update(of=("self",)).get(id=rest.plan.id)
    if any((bar.state, bar.length_u) != rest.seen[bar.id] for bar in bars.values()):
        raise taken_meanwhile()
    return bars


def write_rest(
    rest: Rest, layout: Sequence[BarCuts], bars: dict[int, StockBar], *, person: Person, key: str, at: datetime
) -> None:
    """Write the new layout onto the locked bars; what is cut stays where it is.

    Raises ``ShopError`` taken_meanwhile where somebody else cut or planned one of the pieces.
    """
    plan = rest.plan
    planned = plan.cuts.filter(state=Cut.State.PLANNED, bar_id__in=rest.moving)
    before = {(cut.piece_id, cut.bar_id) for cut in planned}
    planned.update(state=Cut.State.WITHDRAWN)
    ids = [piece.id for piece in rest.pieces]
    Cut.objects.filter(piece_id__in=ids, state=Cut.State.DONE).update(state=Cut.State.WITHDRAWN)
    _still_open(ids)
    lay_out(plan, layout, bars, person=person, key=key, at=at, moved_at=at)
    used = {laid.bar.id for laid in layout}
    for bar_id in sorted(rest.moving - used):
        if bars[bar_id].state in {StockBar.State.RESERVED, StockBar.State.ON_SAW}:
            leave_bar(bars[bar_id], plan, person=person, key=sub_key(key, "leave", bar_id), at=at)
            keep_bar(bars[bar_id])
    _unflag(plan, before)
    sum_up(plan)


def _still_open(ids: list[int]) -> None:
    cut = Piece.objects.filter(id__in=ids, is_cut=True).exists()
    if cut or Cut.objects.filter(piece_id__in=ids, state=Cut.State.PLANNED).exists():
        raise taken_meanwhile()


def _unflag(plan: CutPlan, before: set[tuple[int, int]]) -> None:
    """Flag as changed only what lies on another bar than before."""
    same = [
        cut.id
        for cut in plan.cuts.filter(state=Cut.State.PLANNED).exclude(moved_at=None)
        if (cut.piece_id, cut.bar_id) in before
    ]
    Cut.objects.filter(id__in=same).update(moved_at=None)


def sum_up(plan: CutPlan) -> None:
    """Put a locked plan's new stock and state right after its cuts have changed."""
    live = plan.cuts.exclude(state=Cut.State.WITHDRAWN, done_at=None)
    plan.new_stock_u = sum(StockBar.objects.filter(id__in=live.values("bar_id")).values_list("nominal_u", flat=True))
    left = plan.cuts.filter(state=Cut.State.PLANNED).exists()
    plan.state = CutPlan.State.OPEN if left else CutPlan.State.DONE
    plan.save(update_fields=["state", "new_stock_u"])


def changed_at_saw(plan: CutPlan) -> None:
    """Say on a locked plan that what was proven of it was so before the saw changed it."""
    if not plan.verdict.startswith(CHANGED):
        plan.verdict = f"{CHANGED}{plan.verdict}"[:80]
    plan.proven = False
    plan.save(update_fields=["verdict", "proven"])
