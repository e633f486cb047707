"""The whole saw page in one value, from a fixed number of queries."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from django.urls import reverse

from cutlists.models import Cut, CutPlan, StockBar
from cutlists.queries.elbows import ElbowLine, elbows_to_trim
from cutlists.queries.saw import (
    BarLine,
    InHand,
    bars_of,
    choose_bar,
    cuts_of,
    in_hand,
    latest_cuts,
    open_plans,
    plan_to_cut,
    unplanned,
)
from cutlists.saving import Serves, kept_pieces, serves_each
from spools.actions.undo_event import OWN_UNDO
from spools.models import Person

if TYPE_CHECKING:
    from cutlists.queries.saw import MadeCut, OpenPlan

KEPT_SHOWN = 2


@dataclass(frozen=True, slots=True)
class LatestLine:
    """One of the last cuts, and who made it; ``undone`` was taken back on the spool's own page.

    ``fresh`` says that this person may undo it with one tap; later it takes the foreman and a reason.
    """

    cut: Cut
    by: str
    undone: bool
    fresh: bool


@dataclass(frozen=True, slots=True)
class KeptLine:
    """A length that was once meant as a piece, and the open pieces it still serves."""

    bar: StockBar
    serves: tuple[Serves, ...]


@dataclass(frozen=True, slots=True)
class SawPage:
    """What the saw page shows."""

    plans: tuple[CutPlan, ...]
    bars: tuple[BarLine, ...]
    hand: InHand | None
    latest: tuple[LatestLine, ...]
    kept: tuple[KeptLine, ...]
    elbows: tuple[ElbowLine, ...]
    unplanned: int

    @property
    def address(self) -> str:
        """The page's own address: this plan, this bar."""
        if self.hand is None:
            return reverse("saw")
        return f"{reverse('saw')}?plan={self.hand.plan.id}&bar={self.hand.bar.id}"


def saw_page(person: Person, *, at: datetime, plan: int | None = None, bar: int | None = None) -> SawPage:
    """Return the page for one person: the bar asked for, else the one they were at. Raises ``ShopError`` not_found."""
    plans = open_plans(person)
    chosen = plan_to_cut(person, plans, asked=plan)
    cuts = cuts_of(chosen) if chosen else []
    bars = bars_of(cuts)
    line = choose_bar(bars, person, asked=bar)
    return SawPage(
        plans=tuple(plans),
        bars=tuple(bars),
        hand=in_hand(chosen, line, cuts) if chosen and line else None,
        latest=_latest(_last_in_hand(person, plans, plan) or chosen, person, at),
        kept=_kept(person),
        elbows=tuple(elbows_to_trim(person)),
        unplanned=plans[0].unplanned if plans else unplanned(person).count(),
    )


def _last_in_hand(person: Person, plans: "Sequence[OpenPlan]", asked: int | None) -> CutPlan | None:
    """Return the plan asked for, cut to its end or not."""
    if asked is None:
        return None
    still_open = next((plan for plan in plans if plan.id == asked), None)
    return still_open or CutPlan.objects.for_person(person).filter(id=asked).first()


def _latest(plan: CutPlan | None, person: Person, at: datetime) -> tuple[LatestLine, ...]:
    """Return the last cuts of the plan in hand; of the one just finished when nothing of it is left."""
    cuts = latest_cuts(plan) if plan else []
    return tuple(_latest_line(cut, person, at) for cut in cuts)


def _latest_line(cut: "MadeCut", person: Person, at: datetime) -> LatestLine:
    undone = not cut.piece.is_cut
    own = cut.by_id == person.id and cut.done_at is not None and at - cut.done_at <= OWN_UNDO
    return LatestLine(cut, cut.by or "", undone, fresh=undone or own)


def _kept(person: Person) -> tuple[KeptLine, ...]:
    bars = kept_pieces(person)[:KEPT_SHOWN]
    found = serves_each(bars)
    return tuple(KeptLine(bar, found[bar.id]) for bar in bars)
