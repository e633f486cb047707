"""Check a jig on its master piece; out of check, it is locked."""

from dataclasses import dataclass
from datetime import datetime

from spools.errors import not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Jig, JigCheck, Person, SetPoints
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FIELD, Role.FOREMAN})
LENGTH_LIMIT_MM = 25.4 / 32  # common practice, no source; a shop setting later
INCLUDED_LIMIT_DEG = 0.25  # common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class MasterPosition:
    """One position on the master: how far the jig's reading is from it."""

    name: str
    length_off_mm: float
    included_off_deg: float


@all_or_nothing
def check_jig(
    *,
    jig_id: int,
    positions: tuple[MasterPosition, ...],
    person: Person,
    key: str,
    at: datetime,
    checked_at: datetime | None = None,
) -> JigCheck:
    """Record a check in both positions; a failed one locks the jig until a good one follows.

    ``checked_at`` is when it was done, where the phone had no signal then; a check that arrives after a later one
    leaves the jig as the later one found it.
    """
    if not person.may(WHO):
        raise not_your_role("Check a jig", say_roles(WHO))
    earlier = JigCheck.objects.filter(key=key, jig__shop_id=person.the_shop_id).first()
    if earlier:
        return earlier
    jig = Jig.objects.select_for_update(of=("self",)).filter(id=jig_id, shop_id=person.the_shop_id).first()
    if jig is None:
        raise not_found("jig of that number")
    when = min(checked_at or at, at)
    versions = SetPoints.objects.filter(jig=jig).order_by("-version")
    newest = versions.filter(valid_from__lte=when).first() or versions.last()
    if newest is None:
        raise not_found("set point of that jig")
    length_off = max((p.length_off_mm for p in positions), key=abs)
    included_off = max((p.included_off_deg for p in positions), key=abs)
    passed = abs(length_off) <= LENGTH_LIMIT_MM + 1e-9 and abs(included_off) <= INCLUDED_LIMIT_DEG + 1e-9
    check = JigCheck.objects.create(
        jig=jig,
        set_points=newest,
        key=key,
        by=person,
        at=when,
        length_off_mm=length_off,
        included_off_deg=included_off,
        passed=passed,
        details={p.name: [p.length_off_mm, p.included_off_deg] for p in positions},
    )
    if not JigCheck.objects.filter(jig=jig, at__gt=when).exists():
        jig.locked_reason = "" if passed else f"out of check since {when.astimezone(jig.shop.zone):%a %d %b %H:%M}"
        jig.save(update_fields=["locked_reason"])
    return check
