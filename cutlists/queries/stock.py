"""What lies in the stock room, what became of one bar, and where a heat went."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Case, Count, F, Q, QuerySet, Sum, When
from django.db.models.functions import Coalesce

from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.models.stock import StockBarQuerySet
from cutlists.queries.stops import still_serves
from cutlists.units import to_mm
from geometry.tables import pipe_sizes
from spools.errors import not_found
from spools.models import Heat, Job, Person, Piece, Shop, Spool

State = StockBar.State
STOCK_COLUMNS = (
    "tag",
    "kind",
    "nps",
    "schedule",
    "material",
    "heat",
    "length_in",
    "length_mm",
    "bought_as_in",
    "rack",
    "state",
    "plan",
    "cut_from",
)


@dataclass(frozen=True, slots=True)
class PipeTotal:
    """One pipe in the stock room: free and reserved bars and drops, and the length that is free."""

    nps: str
    schedule: str
    material: str
    bars: int
    drops: int
    reserved: int
    free_mm: float

    @property
    def code(self) -> str:
        """How the address names it."""
        return f"{self.nps}|{self.schedule}|{self.material}"


@dataclass(frozen=True, slots=True)
class BarRow:
    """One bar, and the plan that it is reserved for."""

    bar: StockBar
    plan: CutPlan | None


@dataclass(frozen=True, slots=True)
class LegLine:
    """A cut leg of a build that has ended, and whether it still serves the build that replaced it."""

    piece: Piece
    newest: Spool | None
    verdict: str


def totals(person: Person) -> list[PipeTotal]:
    """Return the stock by pipe, sizes in rising order (one query)."""
    free = Q(state=State.IN_STOCK)
    rows = (
        StockBar.objects.for_person(person)
        .on_hand()
        .order_by()
        .values("nps", "schedule", "material")
        .annotate(
            bars=Count("id", filter=free & Q(is_drop=False)),
            free_drops=Count("id", filter=free & Q(is_drop=True)),
            reserved=Count("id", filter=~free),
            free_u=Coalesce(Sum("length_u", filter=free), 0),
        )
    )
    found = [
        PipeTotal(
            row["nps"],
            row["schedule"],
            row["material"],
            row["bars"],
            row["free_drops"],
            row["reserved"],
            to_mm(row["free_u"]),
        )
        for row in rows
    ]
    return sorted(found, key=lambda one: (*size_order(one.nps), one.schedule, one.material))


def size_order(nps: str) -> tuple[int, str]:
    """Return what puts nominal sizes in rising order."""
    sizes = pipe_sizes()
    return (sizes.index(nps) if nps in sizes else len(sizes), nps)


def bars_in(person: Person, *, pipe_code: str = "", gone: bool = False) -> StockBarQuerySet:
    """Return the bars and drops on hand, or those that are gone; of one pipe, or of all."""
    bars = StockBar.objects.for_person(person).select_related("heat", "cut_from")
    bars = bars.filter(state__in=[State.USED, State.SCRAPPED]) if gone else bars.on_hand()
    if pipe_code:
        nps, schedule, material = (*pipe_code.split("|"), "", "")[:3]
        bars = bars.filter(nps=nps, schedule=schedule, material=material)
    rising = Case(*(When(nps=size, then=place) for place, size in enumerate(pipe_sizes())), default=len(pipe_sizes()))
    return bars.order_by(rising, "schedule", "material", "is_drop", "-length_u", "id")


def with_plans(bars: Iterable[StockBar]) -> list[BarRow]:
    """Return bars with the plan that each is reserved for (one query)."""
    rows = list(bars)
    planned = Cut.objects.filter(bar__in=rows, state=Cut.State.PLANNED)
    plans = {cut.bar_id: cut.plan for cut in planned.select_related("plan")}
    return [BarRow(bar, plans.get(bar.id)) for bar in rows]


def stock_rows(bars: Iterable[StockBar]) -> Iterator[tuple[Any, ...]]:
    """Yield one row for each bar, lengths in inches and in mm."""
    for row in with_plans(bars):
        bar = row.bar
        yield (
            bar.tag,
            "drop" if bar.is_drop else "bar",
            bar.nps,
            bar.schedule,
            bar.material,
            bar.heat.number if bar.heat else "",
            round(bar.length_mm / 25.4, 3),
            round(bar.length_mm, 1),
            round(to_mm(bar.nominal_u) / 25.4, 3) if bar.nominal_u else None,
            bar.rack,
            bar.get_state_display(),
            row.plan.number if row.plan else None,
            bar.cut_from.tag if bar.cut_from else "",
        )


def one_bar(bar_id: int, person: Person) -> StockBar:
    """Return one bar with its heat and origin. Raises ``ShopError`` not_found."""
    bar = StockBar.objects.for_person(person).select_related("heat", "cut_from", "shop").filter(id=bar_id).first()
    if bar is None:
        raise not_found("bar of that tag")
    return bar


def story_of_bar(bar: StockBar) -> list[StockEvent]:
    """Return what happened to a bar, newest first."""
    return list(
        bar.events.select_related("person", "piece__spool__tie_in").defer(*_heavy("piece__spool")).order_by("-number")
    )


def cuts_of_bar(bar: StockBar) -> list[Cut]:
    """Return the pieces that came, or are to come, from a bar."""
    return list(
        bar.cuts.exclude(state=Cut.State.WITHDRAWN)
        .select_related("plan", "piece__spool__tie_in__job", "heat")
        .defer(*_heavy("piece__spool"))
        .order_by("id")
    )


def one_heat(heat_id: int, person: Person) -> Heat:
    """Return one heat. Raises ``ShopError`` not_found."""
    heat = Heat.objects.filter(id=heat_id, shop_id=person.the_shop_id).first()
    if heat is None:
        raise not_found("heat of that number")
    return heat


def bars_of_heat(heat: Heat) -> QuerySet[StockBar]:
    """Return the bars and drops of a heat, as they came."""
    return heat.bars.select_related("cut_from").order_by("id")


def pieces_of_heat(heat: Heat) -> QuerySet[Piece]:
    """Return the pieces cut from a heat, with their spools and where these stand."""
    return (
        heat.pieces.select_related("spool__tie_in__job", "spool__tie_in__main")
        .defer(*_heavy("spool"))
        .order_by("spool__tie_in__mark_key", "spool__build", "id")
    )


def legs_to_return(person: Person) -> list[LegLine]:
    """Return cut legs of builds that have ended which nobody has put back in the rack yet (two queries)."""
    legs = list(
        Piece.objects.filter(spool__shop_id=person.the_shop_id, spool__live=False, is_cut=True, sawn=True)
        .filter(spool__delivered_at=None, spool__coating_out_at=None)
        .exclude(stock_events__kind=StockEvent.Kind.RETURNED)
        .select_related("spool__tie_in__job", "heat")
        .defer(*_heavy("spool"))
        .order_by("-spool__last_event_at", "id")[:50]
    )
    newest = {
        (piece.spool.tie_in_id, piece.mark): piece
        for piece in Piece.objects.filter(spool__live=True, spool__tie_in_id__in={leg.spool.tie_in_id for leg in legs})
        .select_related("spool__tie_in")
        .defer(*_heavy("spool"))
    }
    return [_leg(leg, newest.get((leg.spool.tie_in_id, leg.mark))) for leg in legs]


def _leg(leg: Piece, new: Piece | None) -> LegLine:
    if new is None:
        return LegLine(leg, None, "no build replaces it yet")
    return LegLine(leg, new.spool, f"for {new.spool.label}: {still_serves(leg, new, leg.spool.tie_in.job)}")


def newest_job(shop: Shop) -> Job | None:
    """Return the shop's newest open job: bars are measured as on it."""
    return shop.jobs.filter(is_open=True).order_by(F("id").desc()).first()


def stock_units(shop: Shop) -> str:
    """Return how lengths of bars are written: as on the shop's newest open job."""
    job = newest_job(shop)
    return str(job.units) if job else "us"


def drops_on_rack(person: Person, *, pipe_code: str = "") -> StockBarQuerySet:
    """Return the drops that hang free in the rack, of one pipe or of all, longest first within a pipe."""
    return bars_in(person, pipe_code=pipe_code, gone=False).filter(is_drop=True, state=StockBar.State.IN_STOCK)


def bar_of_tag(tag: str, person: Person) -> StockBar:
    """Return the bar or drop with that number on its tag. Raises ``ShopError`` not_found."""
    found = StockBar.objects.for_person(person).filter(tag=tag.strip().upper()[:12]).first()
    if found is None:
        raise not_found("bar or drop with that number")
    return found


def _heavy(spool: str) -> tuple[str, str]:
    return f"{spool}__solution", f"{spool}__route"
