"""Keep a planned walk, so that the crew's list, on paper and on the phone, is the one that was planned."""

from dataclasses import dataclass
from datetime import datetime

from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Main, Person, Walk
from spools.say_lengths import say_station
from spools.transactions import all_or_nothing
from spools.walks.plan import WalkPlan

WHO = frozenset({Role.FIELD, Role.FOREMAN, Role.MANAGER})


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkAsked:
    """What was asked of the plan: what is done, how many in a shift, and whether up where it went down."""

    what: str
    in_a_shift: int
    same_shaft: bool


@all_or_nothing
def keep_walk(*, main_id: int, plan: WalkPlan, asked: WalkAsked, person: Person, key: str, at: datetime) -> Walk:
    """Keep one plan. Raises ``ShopError``: not_your_role, not_found, invalid (nothing to do)."""
    if not person.may(WHO):
        raise not_your_role("Plan a walk", say_roles(WHO))
    earlier = Walk.objects.for_person(person).filter(key=key).first()
    if earlier:
        return earlier
    main = Main.objects.select_related("job").filter(id=main_id, job__shop_id=person.the_shop_id).first()
    if main is None:
        raise not_found("main of that number")
    if not plan.shifts:
        raise invalid({"main": "Nothing is left to do on this main."})
    units = main.job.units
    shifts = [
        {
            "in_mm": shift.in_mm,
            "out_mm": shift.out_mm,
            "in_words": say_station(shift.in_mm, units),
            "out_words": say_station(shift.out_mm, units),
            "walk_mm": shift.walk_mm,
            "tie_ins": [stop.id for stop in shift.stops],
        }
        for shift in plan.shifts
    ]
    return Walk.objects.create(
        main=main,
        key=key,
        what=asked.what,
        planned_by=person,
        planned_at=at,
        in_a_shift=asked.in_a_shift,
        same_shaft=asked.same_shaft,
        shifts=shifts,
        walk_mm=plan.walk_mm,
        mark_order_mm=plan.mark_order_mm,
    )
