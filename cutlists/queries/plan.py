"""What a cut plan's page shows, and what there is to plan."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Sum
from django.utils.safestring import SafeString

from cutlists.actions.plan_cuts import Group, pieces_to_plan
from cutlists.bar_picture import bar_picture
from cutlists.comparison import WAYS
from cutlists.laying_out import left_over_u
from cutlists.models import Cut, CutPlan, PlanSearch, StockBar, StockEvent
from cutlists.queries.saw import CutLine, parts_of
from cutlists.queries.stock import PipeTotal, size_order, totals
from cutlists.queries.stops import newest_builds, stop_of
from cutlists.units import to_mm
from spools.errors import not_found
from spools.flow.machine_limits import Machine, none_takes
from spools.models import Bench, Person, Piece, Spool

MOST_SPOOLS = 400


@dataclass(frozen=True, slots=True)
class PlanBarLine:
    """One bar of a plan with its cuts, and what it leaves."""

    bar: StockBar
    order: int
    lines: tuple[CutLine, ...]
    left_mm: float
    left_words: str
    picture: SafeString


@dataclass(frozen=True, slots=True)
class WayLine:
    """One way of cutting beside the plan: new stock, scrap, bars; ``bars`` is 0 where the stock would run out."""

    words: str
    new_stock_mm: float
    scrap_mm: float
    bars: int


@dataclass(frozen=True, slots=True)
class PlanPage:
    """A plan as it stands now."""

    plan: CutPlan
    units: str
    bars: tuple[PlanBarLine, ...]
    cuts: int
    done: int
    new_stock_mm: float
    bound_mm: float
    scrap_mm: float
    pieces_mm: float
    drops_mm: float
    ways: tuple[WayLine, ...]
    search: PlanSearch | None

    @property
    def cuts_text(self) -> str:
        """How many pieces, for a sentence."""
        return str(self.cuts)

    @property
    def search_best_mm(self) -> float:
        """The new pipe of the best plan that the search knows."""
        return to_mm((self.search and self.search.best_u) or 0)

    @property
    def search_bound_mm(self) -> float:
        """The new pipe that no plan of the rest can go below."""
        return to_mm((self.search and self.search.bound_u) or 0)

    @property
    def new_bars(self) -> int:
        """How many bars are opened, drops from earlier not counted."""
        return sum(not line.bar.is_drop for line in self.bars)

    @property
    def scrap_percent(self) -> float:
        """Scrap beside the length of the pieces."""
        return 100 * self.scrap_mm / self.pieces_mm if self.pieces_mm else 0.0


@dataclass(frozen=True, slots=True)
class HeatOffer:
    """A heat that a pipe's plan could keep to; ``code`` is ``nps|schedule|material|heat`` for a form."""

    code: str
    number: str
    free_mm: float


@dataclass(frozen=True, slots=True)
class ToPlanGroup:
    """One pipe with the spools that need it, and what lies free of it."""

    nps: str
    schedule: str
    material: str
    spools: tuple[tuple[Spool, tuple[Piece, ...]], ...]
    bars: int
    free_mm: float
    heats: tuple[HeatOffer, ...] = ()
    no_saw: str = ""  # why no saw here takes this pipe

    @property
    def pieces(self) -> int:
        """How many pieces are to plan."""
        return sum(len(pieces) for _, pieces in self.spools)

    @property
    def needed_mm(self) -> float:
        """Their length, without kerf."""
        return sum(piece.stock_mm for _, pieces in self.spools for piece in pieces)

    @property
    def is_enough(self) -> bool:
        """Whether the free length could suffice at all."""
        return self.free_mm >= self.needed_mm


def plan_page(plan_id: int, person: Person) -> PlanPage:
    """Return one plan's page (a fixed number of queries). Raises ``ShopError`` not_found."""
    plan = CutPlan.objects.for_person(person).select_related("shop", "made_by", "one_heat").filter(id=plan_id).first()
    if plan is None:
        raise not_found("plan of that number")
    cuts = list(
        plan.cuts.exclude(state=Cut.State.WITHDRAWN)
        .select_related("bar__heat", "piece__spool__tie_in__job")
        .defer("piece__spool__solution", "piece__spool__route")
        .order_by("bar_order", "position_u", "id")
    )
    lines = _lines(cuts)
    bars = _bars(plan, lines)
    scrapped_u, dropped_u = _gone(plan)
    units = lines[0].units if lines else "us"
    return PlanPage(
        plan=plan,
        units=units,
        bars=bars,
        cuts=len(lines),
        done=sum(line.cut.state == Cut.State.DONE for line in lines),
        new_stock_mm=to_mm(plan.new_stock_u),
        bound_mm=to_mm(plan.lower_bound_u),
        scrap_mm=to_mm(scrapped_u) + sum(bar.left_mm for bar in bars if bar.left_words == "scrap"),
        pieces_mm=sum(line.length_mm for line in lines),
        drops_mm=to_mm(dropped_u) + sum(bar.left_mm for bar in bars if bar.left_words == "drop to keep"),
        ways=_ways(plan),
        search=plan.searches.order_by("-id").first(),
    )


def _lines(cuts: Sequence[Cut]) -> list[CutLine]:
    newest = newest_builds([cut for cut in cuts if cut.state == Cut.State.PLANNED])
    return [CutLine(cut, stop_of(cut, newest) if cut.state == Cut.State.PLANNED else None) for cut in cuts]


def _bars(plan: CutPlan, lines: Sequence[CutLine]) -> tuple[PlanBarLine, ...]:
    by_bar: dict[int, list[CutLine]] = defaultdict(list)
    for line in lines:
        by_bar[line.cut.bar_id].append(line)
    return tuple(_bar(plan, rows) for rows in by_bar.values())


def _bar(plan: CutPlan, lines: Sequence[CutLine]) -> PlanBarLine:
    bar = lines[0].cut.bar
    planned = [line.cut for line in lines if line.cut.state == Cut.State.PLANNED]
    left_u = left_over_u(bar, plan, planned) if planned else 0
    words = "drop to keep" if left_u and left_u >= plan.keep_from_u else "scrap" if left_u else ""
    last = lines[-1].cut
    total_u = max(bar.used_u + bar.length_u, last.position_u + last.length_u)
    picture = bar_picture(parts_of(bar, lines), total_u=total_u, title=f"Bar {bar} to scale")
    return PlanBarLine(bar, lines[0].cut.bar_order, tuple(lines), to_mm(left_u), words, picture)


def _gone(plan: CutPlan) -> tuple[int, int]:
    """Return what finished bars of a plan have left in the bin and in the rack (one query)."""
    kinds = [StockEvent.Kind.SCRAPPED, StockEvent.Kind.DROPPED]
    live = plan.cuts.exclude(state=Cut.State.WITHDRAWN, done_at=None).values("bar_id")
    rows = (
        StockEvent.objects.filter(bar_id__in=live, kind__in=kinds).order_by().values("kind").annotate(u=Sum("length_u"))
    )
    sums = {row["kind"]: -row["u"] for row in rows}
    return sums.get("scrapped", 0), sums.get("dropped", 0)


def _ways(plan: CutPlan) -> tuple[WayLine, ...]:
    words = {"plan": "this plan, as it was made", **WAYS}
    return tuple(
        WayLine(words[code], to_mm(way["new_stock_u"]), to_mm(way["scrap_u"]), way["bars"])
        for code in ("plan", *WAYS)
        if (way := plan.compared.get(code))
    )


def to_plan(person: Person) -> tuple[ToPlanGroup, ...]:
    """Return what can be planned, by pipe; sizes in rising order, the most urgent spools first."""
    ids = (
        Spool.objects.for_person(person)
        .in_shop()
        .filter(next_step="cut", hold_count=0)
        .order_by("-rush", "due_at", "id")
        .values_list("id", flat=True)[:MOST_SPOOLS]
    )
    groups = pieces_to_plan(list(ids), person)
    order = sorted(groups, key=lambda group: (*size_order(group[0]), *group[1:]))
    free = {(one.nps, one.schedule, one.material): one for one in totals(person)}
    heats = heats_free(person)
    saws = [bench.machine for bench in Bench.objects.filter(shop_id=person.the_shop_id, is_active=True)]
    return tuple(_group(group, groups[group], free.get(group), heats.get(group, ()), saws) for group in order)


def heats_free(person: Person) -> dict[Group, list[HeatOffer]]:
    """Return what lies free of each heat, by pipe (one query)."""
    rows = (
        StockBar.objects.for_person(person)
        .filter(state=StockBar.State.IN_STOCK, heat__isnull=False)
        .order_by("heat__number")
        .values_list("nps", "schedule", "material", "heat_id", "heat__number")
        .annotate(u=Sum("length_u"))
    )
    found: dict[Group, list[HeatOffer]] = defaultdict(list)
    for *group, heat_id, number, length_u in rows:
        code = "|".join((*group, str(heat_id)))
        found[group[0], group[1], group[2]].append(HeatOffer(code, number, to_mm(length_u)))
    return found


def _group(
    group: Group,
    pieces: Sequence[Piece],
    free: PipeTotal | None,
    heats: Sequence[HeatOffer],
    saws: Sequence[Machine],
) -> ToPlanGroup:
    by_spool: dict[Spool, list[Piece]] = defaultdict(list)
    for piece in pieces:
        by_spool[piece.spool].append(piece)
    return ToPlanGroup(
        *group,
        spools=tuple((spool, tuple(rows)) for spool, rows in by_spool.items()),
        bars=free.bars + free.drops if free else 0,
        free_mm=free.free_mm if free else 0.0,
        heats=tuple(heats),
        no_saw=none_takes("cut", group[0], group[1], saws),
    )
