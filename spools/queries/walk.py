"""What the pages of a walk show: what is to be done along a main, and a plan with where each stop stands now."""

from dataclasses import dataclass

from spools.errors import not_found
from spools.models import Main, Obstacle, Person, Spool, TieIn, Walk
from spools.models.jobs import TieInQuerySet
from spools.queries.obstacles import obstructed_on
from spools.walks.plan import Stop


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkedStop:
    """One stop of a printed list: the tie-in, and whether it is done since the plan was made."""

    number: int
    tie_in: TieIn
    done: bool
    obstacle: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkedShift:
    """One shift of a printed list."""

    in_words: str
    out_words: str
    walk_words: str
    stops: tuple[WalkedStop, ...]


def say_walk(walk_mm: float, units: str) -> str:
    """Return a way on foot: ``1,240 ft``, or whole meters."""
    return f"{walk_mm / 1000:,.0f} m" if units == "metric" else f"{walk_mm / 304.8:,.0f} ft"


def mains_of(person: Person) -> list[Main]:
    """Return the mains of the shop's open jobs."""
    found = Main.objects.filter(job__shop_id=person.the_shop_id, job__is_open=True).select_related("job__shop")
    return list(found.order_by("job__number", "name"))


def stops_of(main: Main, what: str) -> list[Stop]:
    """Return what is still to measure, or to hang, along a main; nobody is sent to where it can't be measured."""
    rows = _undone(TieIn.objects.filter(main=main), what)
    if what != Walk.What.HANG:
        rows = rows.exclude(id__in=obstructed_on(main.id))
    return [Stop(*row) for row in rows.values_list("id", "mark", "station_mm").order_by("station_mm", "id")]


def _undone(tie_ins: TieInQuerySet, what: str) -> TieInQuerySet:
    if what == Walk.What.HANG:
        return tie_ins.filter(id__in=Spool.objects.live().filter(next_step="delivered").values("tie_in_id"))
    return tie_ins.to_measure()


def one_walk(walk_id: int, person: Person) -> Walk:
    """Return one planned walk. Raises ``ShopError`` not_found."""
    found = Walk.objects.for_person(person).select_related("main__job__shop", "planned_by").filter(id=walk_id).first()
    if found is None:
        raise not_found("walk of that number")
    return found


def walks_of(person: Person) -> list[Walk]:
    """Return the newest walks of the shop."""
    return list(Walk.objects.for_person(person).select_related("main", "planned_by")[:10])


def shifts_of(walk: Walk) -> list[WalkedShift]:
    """Return a walk's shifts with their tie-ins as they stand now (three queries)."""
    ids = [tie_in for shift in walk.shifts for tie_in in shift["tie_ins"]]
    found = TieIn.objects.select_related("main", "job").in_bulk(ids)
    in_the_way = {one.tie_in_id: one.get_why_display() for one in Obstacle.objects.standing().filter(tie_in__in=ids)}
    undone = set(_undone(TieIn.objects.filter(id__in=ids), walk.what).values_list("id", flat=True))
    number = 0
    shifts = []
    for shift in walk.shifts:
        stops = []
        for tie_in in (found[i] for i in shift["tie_ins"] if i in found):
            number += 1
            stops.append(
                WalkedStop(
                    number=number, tie_in=tie_in, done=tie_in.id not in undone, obstacle=in_the_way.get(tie_in.id, "")
                )
            )
        shifts.append(
            WalkedShift(
                in_words=shift["in_words"],
                out_words=shift["out_words"],
                walk_words=say_walk(shift["walk_mm"], walk.main.job.units),
                stops=tuple(stops),
            )
        )
    return shifts
