"""The saw's month: bars received with their heats, a cut plan each half day, cuts in the plan's order."""

from collections import defaultdict, deque
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial

from cutlists.actions.bar_short import bar_short
from cutlists.actions.cut_from import cut_from
from cutlists.actions.cut_piece import cut_piece
from cutlists.actions.plan_cuts import pieces_to_plan, plan_cuts
from cutlists.actions.receive_bars import receive_bars
from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.demo.building import prepare_ends
from cutlists.demo.chance import dice
from cutlists.demo.diary import Diary
from cutlists.demo.fates import LAST_PLAN_AT, PLANS_AT
from cutlists.demo.gallery import INCH_MM
from cutlists.demo.lots import Lot
from cutlists.demo.scenario import LAST_DAY
from cutlists.models import Cut, CutPlan, StockBar
from cutlists.units import PER_INCH, to_mm, to_units

SINGLE_IN = 252
# The past's plans get only the time to prove their stock; the plan to be looked at gets more for its drops.
PAST_SECONDS, TOMORROW_SECONDS = 0.25, 3.0
FIRST_CUT_AFTER, CUTTING_MINUTES, ONE_CUT_MINUTES = 12.0, 62.0, 3.4
# Day, NPS, heat, how many singles, rack.
RECEIPTS: tuple[tuple[int, str, str, int, str], ...] = (
    (1, "6", "7K2214", 8, "R1"),
    (1, "8", "8H1907", 5, "R3"),
    (2, "6", "7K2231", 6, "R2"),
    (8, "6", "7K2260", 8, "R1"),
    (8, "8", "8H1933", 4, "R3"),
    (13, "6", "7K2288", 10, "R2"),
    (17, "8", "8H1951", 5, "R3"),
    (18, "6", "7K2314", 12, "R1"),
)
TOMORROW_AT = "16:20"
BAR_SHORT_DAY, BAR_SHORT_BY_IN = 16, 8.0


@dataclass(frozen=True, slots=True)
class Slip:
    """How a piece was cut wrong: by how much it is short, why, and whether it is kept for another tie-in."""

    short_in: float
    reason: str
    kept: bool


WRONG_CUTS = {
    "wrong cut, first": Slip(1.0, "stop read an inch off", kept=True),
    "wrong cut, second": Slip(0.5, "tape hooked on the burr", kept=True),
    "wrong cut, third": Slip(0.75, "cut out of square, blade wandered; scrap", kept=False),
}


@dataclass
class Saw:
    """What waits for a plan, what was cut wrong, and what lies on the rack."""

    diary: Diary
    waiting: dict[float, list[Lot]] = field(default_factory=lambda: defaultdict(list))
    spoiled: set[int] = field(default_factory=set)
    rack: list[StockBar] = field(default_factory=list)
    bar_was_short: bool = False

    def set_up(self) -> None:
        """Put the receipts and every plan of the month on their moments."""
        month = self.diary.month
        for day, nps, heat, bars, rack in RECEIPTS:
            self.diary.on(day, "07:40", partial(self._receive, nps, heat, bars, rack))
        for lot in self.diary.lots.values():
            for making in lot.makings:
                if making.slot is not None:
                    self.waiting[making.slot].append(lot)
        for day in month.worked:
            for clock in PLANS_AT:
                self.diary.on(day, clock, self.plan)
        self.diary.on(LAST_DAY, LAST_PLAN_AT, self.plan)
        self.diary.on(LAST_DAY, TOMORROW_AT, self.plan_what_is_left)

    def plan(self, at: datetime) -> list[CutPlan]:
        """Plan the spools of this half day, and begin to cut."""
        lots = self.waiting.pop(self.diary.now, [])
        saved = self._use_wrong_pieces(lots, at)
        plans = self._plans([self.diary.spool_id(lot.mark) for lot in lots], at, seconds=PAST_SECONDS)
        plan_ids = [*saved, *(plan.id for plan in plans)]
        first = self.diary.now + FIRST_CUT_AFTER
        if plans and self.diary.month.day_of(self.diary.now) == BAR_SHORT_DAY and not self.bar_was_short:
            self.diary.put(first - 2, partial(self._bar_is_short, plans[0]))
            self.bar_was_short = True
        self.diary.put(first, partial(self._begin_to_cut, plan_ids))
        return plans

    def plan_what_is_left(self, at: datetime) -> list[CutPlan]:
        """Plan the next day's cutting: all that is not cut, not planned and not held."""
        return self._plans([spool.id for spool in self.diary.spools.values()], at, seconds=TOMORROW_SECONDS)

    def _plans(self, spool_ids: list[int], at: datetime, *, seconds: float) -> list[CutPlan]:
        cutter = self.diary.ground.crew.cutter
        if not pieces_to_plan(spool_ids, cutter):
            return []
        return plan_cuts(spool_ids=spool_ids, person=cutter, key=self.diary.key(), at=at, seconds=seconds)

    def _begin_to_cut(self, plan_ids: list[int], at: datetime) -> None:
        """Cut the plans' first piece, and put the others on their moments."""
        queue = self._queue(plan_ids)
        pace = min(ONE_CUT_MINUTES, CUTTING_MINUTES / max(len(queue), 1))
        self._cut_next(plan_ids, queue, pace, at)

    def _queue(self, plan_ids: list[int]) -> deque[tuple[int, int]]:
        """Return what is still to cut of these plans, in order, as cut and spool."""
        planned = Cut.objects.filter(plan__in=plan_ids, state=Cut.State.PLANNED)
        return deque(planned.order_by("plan", "bar_order", "order").values_list("id", "piece__spool"))

    def _cut_next(self, plan_ids: list[int], queue: deque[tuple[int, int]], pace: float, at: datetime) -> None:
        """Cut the next piece of a queue, and put the one after it on its moment."""
        if not queue:
            return
        cut_id, spool_id = queue.popleft()
        lot = self.diary.lot_of[spool_id]
        if lot.story in WRONG_CUTS and lot.mark not in self.spoiled:
            self._cut_wrong(cut_id, lot, at)
            queue = self._queue(plan_ids)
        else:
            cut_piece(cut_id=cut_id, person=self.diary.ground.crew.cutter, key=self.diary.key(), at=at)
            if all(later != spool_id for _, later in queue):
                prepare_ends(self.diary, lot, lot.making_of(self.diary.spools[lot.mark].build))
        self.diary.put(self.diary.now + pace, partial(self._cut_next, plan_ids, queue, pace))

    def _cut_wrong(self, cut_id: int, lot: Lot, at: datetime) -> None:
        """Set the stop wrong: the piece is short, and is planned again with the rest."""
        cut = Cut.objects.select_related("piece").get(id=cut_id)
        wrong = WRONG_CUTS[lot.story]
        real_mm = (cut.piece.cut_mm or 0.0) - wrong.short_in * INCH_MM if wrong.kept else None
        wrong_at_saw(
            cut_id=cut.id,
            person=self.diary.ground.crew.cutter,
            key=self.diary.key(),
            at=at,
            reason=wrong.reason,
            real_mm=real_mm,
        )
        self.spoiled.add(lot.mark)
        if wrong.kept:
            self.rack.append(StockBar.objects.filter(is_drop=True, events__piece=cut.piece).latest("id"))

    def _use_wrong_pieces(self, lots: list[Lot], at: datetime) -> list[int]:
        """Take each piece cut wrong for the longest leg it still serves; return the plans of these cuts."""
        if not self.rack:
            return []
        in_stock = StockBar.objects.filter(id__in=[bar.id for bar in self.rack], state=StockBar.State.IN_STOCK)
        self.rack = list(in_stock.order_by("id"))  # what a plan has taken meanwhile is saved already
        pieces = [piece for lot in lots for piece in self.diary.spools[lot.mark].pieces.filter(sawn=True)]
        plans = []
        for kept in list(self.rack):
            fits = [p for p in pieces if p.nps == kept.nps and to_units(p.stock_mm) <= kept.length_u - PER_INCH // 8]
            if not fits:
                continue
            best = max(fits, key=lambda piece: (piece.stock_mm, -piece.id))
            pieces.remove(best)
            self.rack.remove(kept)
            cut = cut_from(
                piece_id=best.id,
                bar_id=kept.id,
                person=self.diary.ground.crew.cutter,
                key=self.diary.key(),
                at=at,
            )
            plans.append(cut.plan_id)
        return plans

    def _bar_is_short(self, plan: CutPlan, at: datetime) -> None:
        """Find the fullest bar of the plan 8 in shorter than the supplier's stencil."""
        bars: dict[int, int] = defaultdict(int)
        for cut in plan.cuts.filter(bar__is_drop=False):
            bars[cut.bar_id] += cut.length_u + plan.kerf_u
        rows = StockBar.objects.in_bulk(bars)
        bar = min(rows.values(), key=lambda row: (row.length_u - bars[row.id], row.id))
        bar_short(
            bar_id=bar.id,
            usable_mm=to_mm(bar.length_u) - BAR_SHORT_BY_IN * INCH_MM,
            person=self.diary.ground.crew.cutter,
            key=self.diary.key(),
            at=at,
            reason="8 in shorter than stenciled",
        )

    def _receive(self, nps: str, heat: str, bars: int, rack: str, at: datetime) -> None:
        throw = dice("bars", heat)
        lengths = [SINGLE_IN * INCH_MM + throw.randint(-12, 12) * INCH_MM / 2 for _ in range(bars)]
        receive_bars(
            nps=nps,
            schedule="40",
            material="A53 B",
            lengths_mm=lengths,
            nominal_mm=SINGLE_IN * INCH_MM,
            heat=heat,
            person=self.diary.ground.crew.cutter,
            key=self.diary.key(),
            at=at,
            rack=rack,
        )
