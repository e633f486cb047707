"""A shop whose saw does whatever a seed says, and the account of its steel drawn up from the events alone."""

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from django.db.models import Prefetch

from cutlists.actions.bar_short import bar_short
from cutlists.actions.count_bar import count_bar
from cutlists.actions.cut_from import cut_from
from cutlists.actions.cut_piece import cut_piece
from cutlists.actions.plan_cuts import plan_cuts
from cutlists.actions.replan import replan
from cutlists.actions.return_piece import return_piece
from cutlists.actions.scrap_bar import scrap_bar
from cutlists.actions.skip_cut import skip_cut
from cutlists.actions.start_bar import start_bar
from cutlists.actions.take_out import call_off_plan, take_out
from cutlists.actions.undo_cut import undo_cut
from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.saving import kept_pieces, serves
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.scrap_spool import scrap_spool
from spools.errors import ShopError
from spools.models import Person, Piece, Shop, Spool
from tests.factories.spools import NOON, make_key
from tests.factories.stock import make_bars

SOLVE_S = 0.05
INCH = 25.4


@dataclass
class Saw:
    """People at a saw; ``tap`` does one random deed, refused or not."""

    shop: Shop
    people: list[Person]
    dice: Random
    at: datetime = NOON
    done: Counter = field(default_factory=Counter)
    refused: Counter = field(default_factory=Counter)

    def tap(self) -> None:
        """Do one random deed as a random person."""
        name = self.dice.choices(list(WEIGHTS), weights=list(WEIGHTS.values()))[0]
        self.at += timedelta(seconds=self.dice.randint(1, 90))
        call = {"person": self.dice.choice(self.people), "key": make_key(), "at": self.at}
        try:
            done = getattr(self, name)(call)
        except ShopError as refusal:
            self.refused[f"{name}: {refusal.code}"] += 1
        else:
            self.done[name] += bool(done)

    def some(self, rows):
        """One random row, or None."""
        rows = list(rows.order_by("id")) if hasattr(rows, "order_by") else list(rows)
        return self.dice.choice(rows) if rows else None

    def receive(self, call):
        return make_bars(
            self.shop,
            self.dice.randint(1, 2),
            length_mm=self.dice.choice([2000.0, 6400.8, 6413.5, 12192.0]),
            heat=self.dice.choice(["", "7K2214", "8H1907"]),
        )

    def plan(self, call):
        spools = Spool.objects.filter(shop=self.shop, live=True).values_list("id", flat=True)
        chosen = self.dice.sample(sorted(spools), min(len(spools), self.dice.randint(1, 4)))
        return plan_cuts(spool_ids=chosen, seconds=SOLVE_S, **call)

    def cut(self, call):
        cut = self.some(Cut.objects.filter(state="planned"))
        return cut and cut_piece(cut_id=cut.id, **call)

    def next_cut(self, call):
        cut = Cut.objects.filter(state="planned").order_by("plan", "bar_order", "order").first()
        return cut and cut_piece(cut_id=cut.id, **call)

    def load(self, call):
        bar = self.some(StockBar.objects.filter(state__in=["reserved", "on_saw"]))
        return bar and start_bar(bar_id=bar.id, heat=self.dice.choice(["", "7K2214"]), **call)

    def skip(self, call):
        cut = self.some(Cut.objects.filter(state="planned"))
        return cut and skip_cut(cut_id=cut.id, **call)

    def wrong(self, call):
        cut = self.some(Cut.objects.exclude(state="withdrawn"))
        real = self.dice.choice([None, 5.0, -3.0, -0.1, -15.0])
        real_mm = None if real is None or cut is None else cut.length_u / 320 + real * INCH
        return cut and wrong_at_saw(cut_id=cut.id, reason="stop slipped", real_mm=real_mm, **call)

    def short(self, call):
        bar = self.some(StockBar.objects.on_hand())
        return bar and bar_short(
            bar_id=bar.id, usable_mm=bar.length_mm * self.dice.choice([0.0, 0.5, 0.97, 1.01]), **call
        )

    def undo(self, call):
        cut = Cut.objects.filter(state="done").order_by("-done_at", "-id").first()
        cut = cut if self.dice.random() < 0.7 else self.some(Cut.objects.filter(state="done"))
        return cut and undo_cut(cut_id=cut.id, reason="wrong mark", **call)

    def take(self, call):
        cut = self.some(Cut.objects.filter(state="planned"))
        return cut and take_out(cut_id=cut.id, **call)

    def call_off(self, call):
        plan = self.some(CutPlan.objects.to_cut())
        return plan and call_off_plan(plan_id=plan.id, **call)

    def again(self, call):
        plan = self.some(CutPlan.objects.to_cut())
        return plan and replan(plan_id=plan.id, seconds=SOLVE_S, **call)

    def scrap(self, call):
        bar = self.some(StockBar.objects.on_hand())
        return bar and scrap_bar(bar_id=bar.id, reason="pitted", **call)

    def count(self, call):
        bar = self.some(StockBar.objects.on_hand())
        length_mm = bar and bar.length_mm * self.dice.choice([1.0, 0.99, 1.01])
        return bar and count_bar(bar_id=bar.id, length_mm=length_mm, rack="R7", reason="counted", **call)

    def save(self, call):
        bar = self.some(kept_pieces(call["person"]))
        found = serves(bar, bar.length_u) if bar else ()
        return found and cut_from(piece_id=found[0].piece.id, bar_id=bar.id, **call)

    def hold(self, call):
        spool = self.some(Spool.objects.filter(live=True))
        if spool is None:
            return None
        if not spool.hold_count:
            return hold_spool(spool_id=spool.id, reason="no elbow", **call)
        return let_go(spool_id=spool.id, hold=spool.the_standing.holds[-1].number, reason="here", **call)

    def end_and_return(self, call):
        piece = self.some(Piece.objects.filter(is_cut=True, sawn=True, stock_events__isnull=False).distinct())
        if piece is None:
            return None
        if piece.spool.live:
            scrap_spool(spool_id=piece.spool_id, reason="design gone", **call)
        return return_piece(piece_id=piece.id, usable_mm=piece.stock_mm - 25.4, **(call | {"key": make_key()}))


WEIGHTS = {
    "receive": 3,
    "plan": 8,
    "cut": 10,
    "next_cut": 30,
    "load": 5,
    "skip": 4,
    "wrong": 7,
    "short": 5,
    "undo": 8,
    "take": 3,
    "call_off": 2,
    "again": 3,
    "scrap": 2,
    "count": 3,
    "save": 4,
    "hold": 3,
    "end_and_return": 1,
}


def account(shop: Shop) -> dict[str, int]:
    """Add up what all events of a shop say, by where the length went."""
    sums: dict[str, int] = defaultdict(int)
    for kind, length_u in StockEvent.objects.filter(bar__shop=shop).values_list("kind", "length_u"):
        sums[kind] += length_u
    return sums


def complaints(shop: Shop) -> list[str]:
    """Say everything about the stock that does not add up; an empty list is right."""
    found: list[str] = []
    sums = account(shop)
    bought = sums["received"] + sums["dropped"]  # what a drop was received with, a bar gave up
    put_right = sums["corrected"] + sums["counted"]
    gone = -(sums["cut"] + sums["returned"]) - sums["kerf"] - sums["trimmed"] - sums["scrapped"]
    planned = Prefetch("cuts", Cut.objects.filter(state="planned").select_related("plan"), to_attr="planned")
    bars = list(StockBar.objects.filter(shop=shop).prefetch_related("events", planned))
    on_hand = sum(bar.length_u for bar in bars)
    if bought + put_right != on_hand + gone:
        found.append(f"{bought} received and {put_right} put right, but {on_hand} on hand and {gone} gone")
    for bar in bars:
        found += [f"bar {bar}: {text}" for text in _bar_complaints(bar)]
    found += _cut_complaints(shop)
    return found


def _bar_complaints(bar: StockBar) -> list[str]:
    found = []
    events = sorted(bar.events.all(), key=lambda event: event.number)
    if bar.length_u != sum(event.length_u for event in events):
        found.append(f"{bar.length_u} long, its events say {sum(event.length_u for event in events)}")
    if [event.number for event in events] != list(range(1, bar.last_number + 1)):
        found.append("its events are not numbered through")
    running = 0
    for event in events:
        running += event.length_u
        if running < 0:
            found.append(f"below zero at event {event.number}")
    planned = sorted(bar.planned, key=lambda cut: cut.order)
    if bool(planned) != (bar.state in {"reserved", "on_saw"}):
        found.append(f"{bar.state} with {len(planned)} cuts to make")
    if len({cut.plan_id for cut in planned}) > 1:
        found.append("in two plans at once")
    if bar.state in {"used", "scrapped"} and bar.length_u:
        found.append(f"{bar.state}, but {bar.length_u} long")
    found += _place_complaints(bar, planned)
    return found


def _place_complaints(bar: StockBar, planned: list[Cut]) -> list[str]:
    if not planned:
        return []
    plan = planned[0].plan
    found, at = [], bar.used_u if bar.is_opened else plan.trim_u
    for cut in planned:
        if cut.position_u != at:
            found.append(f"{cut} starts at {cut.position_u}, not {at}")
        at += cut.length_u + plan.kerf_u
    if at - plan.kerf_u > bar.used_u + bar.length_u:
        found.append(f"its cuts need {at - plan.kerf_u}, it has {bar.used_u + bar.length_u}")
    return found


def _cut_complaints(shop: Shop) -> list[str]:
    found = []
    pieces = Piece.objects.filter(spool__shop=shop, sawn=True).select_related("spool__tie_in").defer("spool__solution")
    for piece in pieces.prefetch_related("cuts", "stock_events"):
        states = [cut.state for cut in piece.cuts.all() if cut.state != "withdrawn"]
        if len(states) > 1:
            found.append(f"{piece} stands in {len(states)} plans")
        steel = -sum(event.length_u for event in piece.stock_events.all() if event.kind == "cut")
        made = sum(cut.length_u for cut in piece.cuts.all() if cut.state == "done")
        if steel != made:
            found.append(f"{piece}: {steel} booked, {made} cut")
        if piece.is_cut != ("done" in states):
            found.append(f"{piece}: cut is {piece.is_cut}, its plan says {states}")
    return found


def done_cuts(shop: Shop) -> dict[int, tuple[int, int, int]]:
    """Where every done cut lies: bar, start, length."""
    cuts = Cut.objects.filter(plan__shop=shop, state="done")
    return {cut.id: (cut.bar_id, cut.position_u, cut.length_u) for cut in cuts}
