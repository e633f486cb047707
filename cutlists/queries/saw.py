"""What the saw shows: one bar of one plan, the next piece on it, and what is around it."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypedDict, cast
from zlib import crc32

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce, NullIf
from django.utils.safestring import SafeString

from cutlists.bar_picture import Part, bar_picture, end_svg
from cutlists.laying_out import left_over_u
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.queries.stops import Stop, newest_builds, stop_of, with_verdicts
from cutlists.units import to_mm
from geometry.ends import end_prep
from geometry.tables import pipe
from spools.errors import not_found
from spools.models import Person, Piece

if TYPE_CHECKING:
    from django_stubs_ext import WithAnnotations

    class Waiting(TypedDict):
        """What an open plan is told with."""

        left: int
        made: int
        unplanned: int

    class LastHand(TypedDict):
        """Who was at a cut's bar last."""

        last_hand: int | None

    class MadeBy(TypedDict):
        """What a cut left, and who made it."""

        drop_id: int | None
        drop_tag: str | None
        by_id: int | None
        by: str | None

    OpenPlan = WithAnnotations[CutPlan, Waiting]
    PlanCut = WithAnnotations[Cut, LastHand]
    MadeCut = WithAnnotations[Cut, MadeBy]

LATEST = 3
HANGS = (StockBar.State.IN_STOCK, StockBar.State.RESERVED)
LEFT = Q(cuts__state=Cut.State.PLANNED)


@dataclass(frozen=True, slots=True)
class EndLine:
    """One end of a piece: where it is, its preparation in words and as a picture."""

    at: str
    word: str
    picture: SafeString


@dataclass(frozen=True, slots=True)
class CutLine:
    """One cut as the saw reads it."""

    cut: Cut
    stop: Stop | None

    @property
    def label(self) -> str:
        """The mark to paint on: ``214-A``."""
        return f"{self.cut.piece.spool.label}-{self.cut.piece.mark}"

    @property
    def length_mm(self) -> float:
        """What the stop is set to."""
        return to_mm(self.cut.length_u)

    @property
    def tape_mm(self) -> float:
        """Where the piece ends on a tape hooked to the bar's marked end, kerfs counted."""
        return to_mm(self.cut.position_u + self.cut.length_u)

    @property
    def finished_mm(self) -> float | None:
        """The length along the axis where the ends are cut slanting, else None."""
        piece = self.cut.piece
        return piece.cut_mm if piece.cut_mm and abs(piece.cut_mm - self.length_mm) > 0.5 else None

    @property
    def units(self) -> str:
        """How lengths are written on its job."""
        return str(self.cut.piece.spool.tie_in.job.units)

    @property
    def ends(self) -> tuple[EndLine, ...]:
        """Both ends."""
        rows = (self.cut.piece.ends[0], self.cut.piece.ends[-1])
        return tuple(
            EndLine(row["at"], end_prep(row["prep"]).word, end_svg(row["prep"], end_right=right, title=row["prep"]))
            for row, right in zip(rows, (False, True), strict=True)
        )


@dataclass(frozen=True, slots=True)
class BarLine:
    """One bar of the plan in hand: how many pieces are left on it, and who was at it last."""

    bar: StockBar
    order: int
    left: int
    total: int
    last_hand: int | None


@dataclass(frozen=True, slots=True)
class InHand:
    """The bar in hand: its pieces in order, the next one, what it will leave."""

    plan: CutPlan
    bar: StockBar
    order: int
    wall_mm: float
    lines: tuple[CutLine, ...]
    drop_mm: float
    drop_kept: bool
    picture: SafeString

    @property
    def to_cut(self) -> tuple[CutLine, ...]:
        """What is left to cut on it."""
        return tuple(line for line in self.lines if line.cut.state == Cut.State.PLANNED)

    @property
    def next(self) -> CutLine | None:
        """The next piece."""
        return self.to_cut[0] if self.to_cut else None

    @property
    def units(self) -> str:
        """How lengths are written here: as on the job of the next piece."""
        line = self.next or (self.lines[0] if self.lines else None)
        return line.units if line else "us"

    @property
    def wall(self) -> str:
        """The wall in words; the trade writes it in decimals of an inch."""
        return f"{self.wall_mm:.2f} mm" if self.units == "metric" else f"{self.wall_mm / 25.4:.3f} in"

    @property
    def news(self) -> str:
        """A short mark of what must be told: it changes when a stop comes or goes."""
        told = "|".join(f"{stop.cut.id} {stop.reason}" for stop in self.stops)
        return f"{crc32(told.encode()):08x}"

    @property
    def stops(self) -> tuple[Stop, ...]:
        """What must not be cut as planned."""
        return tuple(line.stop for line in self.to_cut if line.stop)


def open_plans(person: Person) -> "list[OpenPlan]":
    """Return the plans with cuts still to make, the oldest first, each with how many are left and made (one query).

    ``unplanned`` of each is the shop's count of pieces that no plan has yet.
    """
    waiting = unplanned(person).order_by().values("sawn").annotate(count=Count("id")).values("count")
    plans = (
        CutPlan.objects.for_person(person)
        .to_cut()
        .annotate(left=Count("cuts", filter=LEFT), made=Count("cuts", filter=Q(cuts__state=Cut.State.DONE)))
        .annotate(unplanned=Coalesce(Subquery(waiting), 0))
        .order_by("number")
    )
    return cast("list[OpenPlan]", list(plans))


def unplanned(person: Person) -> QuerySet[Piece]:
    """Return the pieces to saw that are free to be planned and are in no plan."""
    return (
        Piece.objects.filter(spool__shop_id=person.the_shop_id, spool__live=True, spool__hold_count=0)
        .filter(sawn=True, is_cut=False, stock_mm__gt=0)
        .exclude(cuts__state=Cut.State.PLANNED)
    )


def cuts_of(plan: CutPlan) -> "list[PlanCut]":
    """Return a plan's cuts in bar order, with all that the saw shows of them (one query).

    ``last_hand`` is who wrote the newest event of a cut's bar.
    """
    newest = StockEvent.objects.filter(bar=OuterRef("bar_id")).order_by("-number")
    return list(
        plan.cuts.exclude(state=Cut.State.WITHDRAWN, done_at=None)
        .annotate(last_hand=Subquery(newest.values("person_id")[:1]))
        .select_related("bar__heat", "piece__spool__tie_in__job")
        .defer("piece__spool__solution", "piece__spool__route")
        .order_by("position_u", "order", "id")
    )


def bars_of(cuts: "Sequence[PlanCut]") -> list[BarLine]:
    """Return the bars that have pieces left, in order."""
    by_bar: dict[int, list[PlanCut]] = defaultdict(list)
    for cut in cuts:
        if cut.state != Cut.State.WITHDRAWN:
            by_bar[cut.bar_id].append(cut)
    lines = [_bar_line(rows) for rows in by_bar.values()]
    return sorted((line for line in lines if line.left), key=lambda line: line.order)


def _bar_line(cuts: "Sequence[PlanCut]") -> BarLine:
    left = sum(cut.state == Cut.State.PLANNED for cut in cuts)
    return BarLine(cuts[0].bar, cuts[0].bar_order, left, len(cuts), cuts[0].last_hand)


def choose_bar(lines: Sequence[BarLine], person: Person, *, asked: int | None = None) -> BarLine | None:
    """Return the bar asked for, else the one this person last touched, else the first that nobody has on a saw."""
    for line in lines:
        if line.bar.id == asked:
            return line
    if not lines:
        return None
    mine = (line for line in lines if line.bar.state == StockBar.State.ON_SAW and line.last_hand == person.id)
    in_rack = (line for line in lines if line.bar.state == StockBar.State.RESERVED)
    return next(mine, None) or next(in_rack, lines[0])


def in_hand(plan: CutPlan, line: BarLine, all_cuts: "Sequence[PlanCut]") -> InHand:
    """Return everything the screen shows of one bar of a plan's cuts (no query, but for stops)."""
    cuts = [cut for cut in all_cuts if cut.bar_id == line.bar.id]
    bar = cuts[0].bar
    newest = newest_builds(cuts)
    planned = [cut for cut in cuts if cut.state == Cut.State.PLANNED]
    stops = with_verdicts([stop for cut in planned if (stop := stop_of(cut, newest))])
    lines = tuple(CutLine(cut, stops.get(cut.id)) for cut in cuts if cut.state != Cut.State.WITHDRAWN)
    drop_u = left_over_u(bar, plan, planned)
    return InHand(
        plan=plan,
        bar=bar,
        order=line.order,
        wall_mm=pipe(plan.nps, plan.schedule).wall_mm,
        lines=lines,
        drop_mm=to_mm(drop_u),
        drop_kept=drop_u >= plan.keep_from_u and drop_u > 0,
        picture=bar_picture(parts_of(bar, lines), total_u=bar.used_u + bar.length_u, title=f"Bar {bar} to scale"),
    )


def parts_of(bar: StockBar, lines: Sequence[CutLine]) -> list[Part]:
    """Return the stretches of a bar for its picture: what is gone, the next piece, the rest."""
    parts = [Part(0, bar.used_u, "gone", "")] if bar.used_u else []
    planned = [line for line in lines if line.cut.state == Cut.State.PLANNED]
    for place, line in enumerate(planned):
        start, end = line.cut.position_u, line.cut.position_u + line.cut.length_u
        parts.append(Part(start, end, "planned" if place else "next", line.label))
    done = [line for line in lines if line.cut.state == Cut.State.DONE]
    ends = [(line.cut.position_u, line.cut.position_u + line.cut.length_u) for line in done]
    return [*parts, *(Part(start, end, "gone", "") for start, end in ends)]


def latest_cuts(plan: CutPlan) -> "list[MadeCut]":
    """Return the last cuts of a plan, newest first, for undoing a slip (one query).

    ``drop_id`` is the drop their bar left, ``by_id`` and ``by`` are who made the cut.
    """
    left = StockBar.objects.filter(cut_from=OuterRef("bar_id"), is_drop=True, state__in=HANGS).order_by("-id")
    made = StockEvent.objects.filter(kind=StockEvent.Kind.CUT, piece=OuterRef("piece_id"), length_u__lt=0)
    made = made.order_by("-id").annotate(by=Coalesce(NullIf("person__last_name", Value("")), "person__username"))
    return list(
        plan.cuts.filter(state=Cut.State.DONE)
        .annotate(drop_id=Subquery(left.values("id")[:1]), drop_tag=Subquery(left.values("tag")[:1]))
        .annotate(by_id=Subquery(made.values("person_id")[:1]), by=Subquery(made.values("by")[:1]))
        .select_related("bar", "piece__spool__tie_in__job")
        .defer("piece__spool__solution", "piece__spool__route")
        .order_by("-done_at", "-id")[:LATEST]
    )


def plan_to_cut(person: Person, plans: "Sequence[OpenPlan]", *, asked: int | None = None) -> "OpenPlan | None":
    """Return the plan asked for among those with cuts left, else the first. Raises ``ShopError`` not_found."""
    if asked is None:
        return plans[0] if plans else None
    found = next((plan for plan in plans if plan.id == asked), None)
    if found is None and not CutPlan.objects.for_person(person).filter(id=asked).exists():
        raise not_found("plan of that number")
    return found or (plans[0] if plans else None)
