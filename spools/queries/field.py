"""What the field page shows: tie-ins to measure in walking order, jigs with their state."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Prefetch

from spools.errors import not_found
from spools.models import SURVEY_JIG, Jig, JigCheck, Person, SetPoints, TieIn
from spools.models.jobs import TieInQuerySet

LATELY = timedelta(days=2)  # a check is good for its own shift, so older ones don't matter here


@dataclass(frozen=True, slots=True)
class JigState:
    """One jig: its newest set points, its last check, and whether it may be used."""

    jig: Jig
    set_points: SetPoints
    last_check: JigCheck | None
    words: str
    good: bool


def jigs_of(person: Person, *, at: datetime) -> list[JigState]:
    """Return the shop's jigs with what to say of each (three queries)."""
    newest = Prefetch("set_points", SetPoints.objects.order_by("-version"))
    lately = JigCheck.objects.filter(at__lte=at, at__gt=at - LATELY)
    checks = Prefetch("checks", lately.order_by("-at"))
    jigs = (
        Jig.objects.filter(shop_id=person.the_shop_id)
        .exclude(serial=SURVEY_JIG)
        .select_related("shop")
        .prefetch_related(newest, checks)
    )
    return [_state(jig, versions[0], at) for jig in jigs if (versions := list(jig.set_points.all()))]


def _state(jig: Jig, newest: SetPoints, at: datetime) -> JigState:
    last = next(iter(jig.checks.all()), None)
    zone = jig.shop.zone
    if jig.locked_reason:
        return JigState(jig, newest, last, f"locked: {jig.locked_reason}", good=False)
    if last is None or last.at.astimezone(zone).date() != at.astimezone(zone).date():
        return JigState(jig, newest, last, "not checked today", good=False)
    return JigState(jig, newest, last, f"checked {last.at.astimezone(zone):%H:%M}, good", good=True)


def usable_set_points(states: list[JigState]) -> list[SetPoints]:
    """Return the set points of the jigs that aren't locked, checked ones first."""
    usable = [state for state in states if not state.jig.locked_reason]
    return [state.set_points for state in sorted(usable, key=lambda state: not state.good)]


def to_measure(person: Person) -> TieInQuerySet:
    """Return the tie-ins nobody has read yet, in walking order."""
    found = TieIn.objects.for_person(person).to_measure().filter(job__is_open=True)
    return found.along_the_main().select_related("main", "job")


def waiting_readings(person: Person) -> TieInQuerySet:
    """Return the tie-ins whose newest reading waits for somebody's decision."""
    found = TieIn.objects.for_person(person).waiting().filter(job__is_open=True)
    return found.along_the_main().select_related("main", "job", "current_reading__taken_by")


def one_tie_in(tie_in_id: int, person: Person) -> TieIn:
    """Return one tie-in with its newest reading, for a form. Raises ``ShopError`` not_found."""
    found = (
        TieIn.objects.for_person(person)
        .select_related("job__shop", "main", "current_reading__taken_by", "current_reading__set_points")
        .filter(id=tie_in_id)
        .first()
    )
    if found is None:
        raise not_found("tie-in of that mark")
    return found


def next_to_measure(tie_in: TieIn, person: Person) -> TieIn | None:
    """Return the next tie-in on the walk."""
    ahead = to_measure(person).filter(main_id=tie_in.main_id, station_mm__gte=tie_in.station_mm).exclude(id=tie_in.id)
    return ahead.first() or to_measure(person).exclude(id=tie_in.id).first()
