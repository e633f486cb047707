"""What stood in the way of measuring is gone: the tie-in goes back on the walk."""

from datetime import datetime

from spools.errors import not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Obstacle, Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN})


@all_or_nothing
def clear_obstacle(*, obstacle_id: int, words: str, person: Person, at: datetime) -> Obstacle:
    """Clear one, saying what was done; one that is cleared stays as it was.

    Raises ``ShopError``: not_your_role, not_found.
    """
    if not person.may(WHO):
        raise not_your_role("Clear the way", say_roles(WHO))
    found = Obstacle.objects.for_person(person).select_related("tie_in").select_for_update(of=("self",))
    obstacle = found.filter(id=obstacle_id).first()
    if obstacle is None:
        raise not_found("obstacle of that number")
    if obstacle.cleared_at is None:
        obstacle.cleared_at, obstacle.cleared_by, obstacle.cleared_words = at, person, words.strip()[:300]
        obstacle.save(update_fields=["cleared_at", "cleared_by", "cleared_words"])
    return obstacle
