"""What the foreman's page shows: today's line, the tray, benches, what is not assigned, holds, ready for coating."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Count, Exists, OuterRef, Q, QuerySet, Sum

from spools.flow.rushes import OpenRushes
from spools.flow.status import OpenHold
from spools.flow.steps import ORDER, STEPS
from spools.models import Bench, Event, LoadLine, Person, Shop, Spool
from spools.models.spools import SpoolQuerySet
from spools.queries.bench import PUT_TOGETHER
from spools.queries.hours import NewestWelds, hours_left, newest_welds

AT_RISK_HOURS = 2
TO_ASSIGN = ("grooved", "beveled", "welded")
SHOWN_IN_QUEUE = 5
MOST = 600  # more than this at once on the floor is no floor
IN_SHOP = ORDER[: ORDER.index("accepted") + 1]


@dataclass(frozen=True, slots=True)
class TodayLine:
    """Spools due today and before: how many, and how they stand."""

    due: int
    done: int
    at_risk: int
    late: int


@dataclass(frozen=True, slots=True)
class Counts:
    """Every count on the page, from one query."""

    today: TodayLine
    stages: dict[str, int]
    ready: int
    ready_kg: float
    rushes: OpenRushes
    not_back: int


@dataclass(frozen=True, slots=True)
class BenchCard:
    """One bench with the front of its queue; its hours are those of what can go on."""

    bench: Bench
    count: int
    held: int
    hours: float
    queue: tuple[Spool, ...]
    who: str

    @property
    def puts_together(self) -> bool:
        """Tell whether spools are assigned to it; a machine takes what comes."""
        return puts_together(self.bench)


@dataclass(frozen=True, slots=True)
class HeldSpool:
    """A spool on hold with its newest hold."""

    spool: Spool
    hold: OpenHold
    since: datetime


@dataclass(frozen=True, slots=True)
class OnTheFloor:
    """The spools that the page shows one by one, from one query."""

    cards: tuple[BenchCard, ...]
    unassigned: tuple[Spool, ...]
    held: tuple[HeldSpool, ...]


def puts_together(bench: Bench) -> bool:
    """Tell whether spools are put together on a bench (one without named operations does everything)."""
    return not bench.operations or bool(PUT_TOGETHER & set(bench.operations))


def day_bounds(at: datetime, shop: Shop) -> tuple[datetime, datetime]:
    """Return the start and the end of the shop's own day."""
    local = at.astimezone(shop.zone).replace(hour=0, minute=0, second=0, microsecond=0)
    return local, local + timedelta(days=1)


def which_spools(which: str, person: Person, *, at: datetime) -> SpoolQuerySet:
    """Return one of the foreman's lists by its name. Raises ``KeyError`` for an unknown one."""
    start, end = day_bounds(at, person.the_shop)
    live, not_on_site = Spool.objects.for_person(person).live(), Spool.objects.for_person(person).open()
    unfinished = not_on_site.filter(next_step__in=IN_SHOP)
    lists: dict[str, SpoolQuerySet] = {
        "due": live.filter(due_at__gte=start, due_at__lt=end),
        "done": live.filter(due_at__gte=start, due_at__lt=end, accepted_at__isnull=False),
        "at_risk": unfinished.filter(due_at__gte=at, due_at__lt=at + timedelta(hours=AT_RISK_HOURS)),
        "late": unfinished.filter(due_at__lt=at),
        "held": not_on_site.filter(hold_count__gt=0, next_step__in=ORDER),
        "rush": unfinished.filter(rush=True),
        "not_assigned": unfinished.filter(bench=None, hold_count=0, next_step__in=TO_ASSIGN),
        "to_cut": unfinished.filter(next_step="cut", hold_count=0),
        "to_groove": unfinished.filter(next_step="grooved", hold_count=0),
        "to_bevel": unfinished.filter(next_step="beveled", hold_count=0),
        "to_weld": unfinished.filter(next_step__in=PUT_TOGETHER, hold_count=0),
        "to_accept": unfinished.filter(next_step="accepted", hold_count=0),
        "ready": live.filter(next_step="at_coating", hold_count=0),
        "at_coating": live.filter(next_step="back"),
        "yard": live.filter(next_step="delivered", accepted_at__isnull=False),
        "in_shop": unfinished,
    }
    return lists[which].for_lists().order_by("-rush", "due_at", "id")


def counts_of(person: Person, *, at: datetime) -> Counts:
    """Count everything that the page counts, over what is open and what is due today."""
    start, end = day_bounds(at, person.the_shop)
    today = Q(due_at__gte=start, due_at__lt=end)
    in_shop, going_on = Q(next_step__in=IN_SHOP), Q(hold_count=0)
    soon = at + timedelta(hours=AT_RISK_HOURS)
    mine = Spool.objects.for_person(person)
    counts = Spool.objects.filter(
        id__in=mine.open().values("id").union(mine.live().filter(today).values("id"))
    ).aggregate(
        due=Count("id", filter=today),
        done=Count("id", filter=today & Q(accepted_at__isnull=False)),
        at_risk=Count("id", filter=in_shop & Q(due_at__gte=at, due_at__lt=soon)),
        late=Count("id", filter=in_shop & Q(due_at__lt=at)),
        held=Count("id", filter=Q(hold_count__gt=0, next_step__in=ORDER)),
        rushed=Count("id", filter=in_shop & Q(rush=True)),
        in_work=Count("id", filter=in_shop),
        not_back=Count("id", filter=Q(next_step="back") & Q(Exists(_not_back_lines(person, at=at)))),
        ready_kg=Sum("black_kg", filter=Q(next_step="at_coating") & going_on),
        **{f"step_{number}": Count("id", filter=Q(next_step=code) & going_on) for number, code in enumerate(ORDER)},
    )
    stages = {step.code: counts[f"step_{number}"] for number, step in enumerate(STEPS)}
    return Counts(
        TodayLine(**{name: counts[name] for name in ("due", "done", "at_risk", "late")}),
        stages | {"held": counts["held"]},
        stages["at_coating"],
        counts["ready_kg"] or 0.0,
        OpenRushes(counts["rushed"], counts["in_work"]),
        counts["not_back"],
    )


def _not_back_lines(person: Person, *, at: datetime) -> QuerySet[LoadLine]:
    """Return the lines of one spool that is missing, or still out after the day it was due back."""
    today = at.astimezone(person.the_shop.zone).date()
    late = Q(settled="", left_at__isnull=False, load__due_back_on__lt=today)
    return LoadLine.objects.filter(Q(settled="missing") | late, spool_id=OuterRef("id"))


def on_the_floor(person: Person, *, at: datetime) -> OnTheFloor:
    """Return benches with their queues, what has no bench yet, and what is on hold (three queries)."""
    benches = list(Bench.objects.filter(shop_id=person.the_shop_id, is_active=True))
    spools = list(
        Spool.objects.for_person(person)
        .open()
        .filter(Q(hold_count__gt=0) | Q(next_step__in=IN_SHOP, bench__isnull=False) | Q(next_step__in=TO_ASSIGN))
        .for_lists()
        .order_by("-rush", "due_at", "id")[:MOST]
    )
    welds = newest_welds(person.the_shop_id, at=at)
    held = [_held(spool) for spool in spools if spool.hold_count]
    return OnTheFloor(
        cards=tuple(_card(bench, spools, welds) for bench in benches),
        unassigned=tuple(
            one for one in spools if one.bench_id is None and not one.hold_count and one.next_step in TO_ASSIGN
        ),
        held=tuple(sorted(held, key=lambda one: (one.since, one.spool.id))),
    )


def _card(bench: Bench, spools: list[Spool], welds: NewestWelds) -> BenchCard:
    mine = [spool for spool in spools if spool.bench_id == bench.id and spool.accepted_at is None]
    hours = sum(hours_left(spool, welds.hours).hours for spool in mine if not spool.hold_count)
    held = sum(bool(spool.hold_count) for spool in mine)
    return BenchCard(bench, len(mine), held, round(hours, 1), tuple(mine[:SHOWN_IN_QUEUE]), welds.who.get(bench.id, ""))


def _held(spool: Spool) -> HeldSpool:
    hold = spool.the_standing.holds[-1]
    return HeldSpool(spool, hold, datetime.fromisoformat(hold.since))


def moves_of(pressed: str, person: Person) -> list[Event]:
    """Return the moves of one press that still stand, newest first; ``pressed`` is the key that the press had."""
    return list(
        Event.objects.filter(
            person=person, key__startswith=f"{pressed}-", code__in=["put_on_bench", "taken_off_bench"], undone_by=None
        )
        .select_related("spool__tie_in")
        .order_by("-id")
    )
