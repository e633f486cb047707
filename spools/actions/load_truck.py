"""Put accepted spools on a truck: to the galvanizer, or to site; a load may take more trips than one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from django.db.models import Max

from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.flow.steps import BY_CODE
from spools.models import Load, LoadLine, Person, Shop, Spool
from spools.shop_calendar import calendar_of
from spools.transactions import all_or_nothing, part_key
from spools.turnaround.shifts import CalendarError

WHO = frozenset({Role.DRIVER, Role.FOREMAN})
STEP_OF = {Load.Kind.COATING: "at_coating", Load.Kind.SITE: "delivered"}
MOST_TRIPS = 20


@dataclass(frozen=True, slots=True)
class Placed:
    """On which trip and which rack a spool goes, by spool; the first trip and no rack where nothing is said."""

    trip: Mapping[int, int] = field(default_factory=dict)
    rack: Mapping[int, str] = field(default_factory=dict)


ANYWHERE = Placed()


@all_or_nothing
def load_truck(
    *,
    kind: str,
    going_to: str,
    spool_ids: Sequence[int],
    person: Person,
    key: str,
    at: datetime,
    placed: Placed = ANYWHERE,
) -> Load:
    """Make a load of spools that are ready for that trip; its first trip leaves at once, the others with ``send_trip``.

    What leaves for coating is at coating; a site load waits for receipt.
    Raises ``ShopError``: not_your_role, invalid, not_found, not_ready (naming each spool and why).
    """
    if not person.may(WHO):
        raise not_your_role("Load a truck", say_roles(WHO))
    earlier = Load.objects.for_person(person).filter(key=key).first()
    if earlier:
        return earlier
    if kind not in STEP_OF:
        raise invalid({"kind": "Choose the galvanizer or the site."})
    if not spool_ids:
        raise invalid({"spools": "Tick the spools that go on the truck."}, "The load is empty.")
    shop = Shop.objects.select_for_update().get(id=person.the_shop_id)  # load numbers are drawn one at a time
    spools = list(
        Spool.objects.select_for_update(of=("self",)).for_person(person).filter(id__in=set(spool_ids)).order_by("id")
    )
    if len(spools) != len(set(spool_ids)):
        raise not_found("spool of one of those numbers")
    _all_ready(spools, kind)
    newest = Load.objects.filter(shop_id=shop.id).aggregate(n=Max("number"))["n"] or 0
    load = Load.objects.create(
        shop=shop,
        number=newest + 1,
        kind=kind,
        going_to=going_to.strip()[:80],
        made_by=person,
        made_at=at,
        left_at=at,
        due_back_on=due_back(shop, at) if kind == Load.Kind.COATING else None,
        link_until=at + timedelta(days=shop.link_days),
        key=key,
    )
    trips = _trips(spools, placed)
    LoadLine.objects.bulk_create(
        LoadLine(load=load, spool=spool, trip=trips[spool.id], rack=placed.rack.get(spool.id, "").strip()[:10])
        for spool in spools
    )
    leave(load, 1, person=person, key=key, at=at)
    return load


@all_or_nothing
def send_trip(*, load_id: int, trip: int, person: Person, key: str, at: datetime) -> Load:
    """Let a later trip of a load leave. Raises ``ShopError``: not_your_role, not_found."""
    if not person.may(WHO):
        raise not_your_role("Send a truck", say_roles(WHO))
    load = Load.objects.select_for_update(of=("self",)).for_person(person).filter(id=load_id).first()
    if load is None or not load.lines.filter(trip=trip).exists():
        raise not_found("trip of that number")
    leave(load, trip, person=person, key=key, at=at)
    return load


def leave(load: Load, trip: int, *, person: Person, key: str, at: datetime) -> None:
    """Let what is still here of a trip leave, within the caller's deed."""
    waiting = load.lines.filter(trip=trip, left_at=None, settled="")
    if load.kind == Load.Kind.COATING:
        for spool_id in waiting.order_by("spool_id").values_list("spool_id", flat=True):
            tap = Tap(load_id=load.id)
            record_step(
                spool_id=spool_id, step="at_coating", person=person, key=part_key(key, spool_id), at=at, tap=tap
            )
    waiting.update(left_at=at)


def due_back(shop: Shop, at: datetime) -> date:
    """Return the working day on which a load that leaves now should be back."""
    calendar = calendar_of(shop)
    day = calendar.local(at).date()
    try:
        for _ in range(shop.zinc_days):
            day = calendar.next_working_day(day)
    except CalendarError:
        return day + timedelta(days=shop.zinc_days)
    return day


def _trips(spools: list[Spool], placed: Placed) -> dict[int, int]:
    """Return each spool's trip, numbered from 1 without gaps."""
    asked = {spool.id: min(max(placed.trip.get(spool.id, 1), 1), MOST_TRIPS) for spool in spools}
    numbers = {trip: number for number, trip in enumerate(sorted(set(asked.values())), start=1)}
    return {spool_id: numbers[trip] for spool_id, trip in asked.items()}


def _all_ready(spools: list[Spool], kind: str) -> None:
    step = STEP_OF[Load.Kind(kind)]
    trouble = {}
    for spool in spools:
        standing, route = spool.the_standing, spool.the_route
        open_before = [c for c in BY_CODE[step].after if not standing.passed(c, route)]
        if standing.ended or standing.holds:
            trouble[spool.label] = "on hold" if standing.holds else standing.ended
        elif open_before:
            trouble[spool.label] = f"not {BY_CODE[open_before[0]].word}"
        elif standing.passed(step, route):
            trouble[spool.label] = f"already {BY_CODE[step].word}"
        elif spool.load_lines.filter(settled="").exists():
            trouble[spool.label] = "on another load"
    if trouble:
        words = "; ".join(f"{label} is {why}" for label, why in trouble.items())
        raise ShopError("not_ready", f"These can't go: {words}.", "Take them off the list.", facts={"trouble": trouble})
