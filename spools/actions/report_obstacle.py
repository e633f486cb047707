"""A tie-in can't be measured: said in the hole, so that nobody walks there for nothing before it is cleared."""

from datetime import datetime

from spools.errors import invalid, key_reused, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Obstacle, Person, TieIn
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FIELD, Role.FOREMAN})


@all_or_nothing
def report_obstacle(
    *,
    tie_in_id: int,
    why: str,
    note: str,
    person: Person,
    key: str,
    at: datetime,
    seen_at: datetime | None = None,
) -> tuple[Obstacle, bool]:
    """Keep what stands in the way; returns it, and whether it was there already.

    Raises ``ShopError``: not_your_role, not_found, invalid (a reason that isn't one; the wrong size not said),
    key_reused.
    """
    if not person.may(WHO):
        raise not_your_role("Say that it can't be measured", say_roles(WHO))
    tie_in = TieIn.objects.for_person(person).filter(id=tie_in_id).first()
    if tie_in is None:
        raise not_found("tie-in of that mark")
    earlier = Obstacle.objects.for_person(person).filter(key=key).first()
    if earlier:
        if (earlier.tie_in_id, earlier.why, earlier.note) != (tie_in.id, why, note.strip()):
            raise key_reused()
        return earlier, True
    if why not in Obstacle.Why.values:
        raise invalid({"why": f"Say why: {', '.join(Obstacle.Why.labels)}."}, "Why can't it be measured?")
    if why == Obstacle.Why.WRONG_SIZE and not note.strip():
        raise invalid({"note": "Say what size is there."}, "What size is there?")
    obstacle = Obstacle(
        tie_in=tie_in,
        key=key,
        why=why,
        note=note.strip(),
        by=person,
        seen_at=min(seen_at or at, at),
        received_at=at,
    )
    obstacle.save(force_insert=True)
    return obstacle, False
