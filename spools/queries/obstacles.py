"""What stands in the way of measuring, for the crew's list, the walk's plan and the foreman's tray."""

from django.db.models import prefetch_related_objects

from spools.models import Obstacle, Person

SHOWN = 50


def obstacles_of(person: Person) -> list[Obstacle]:
    """Return what stands in the way on open jobs, the newest first, one for each tie-in (one query)."""
    found = Obstacle.objects.for_person(person).filter(tie_in__job__is_open=True) & Obstacle.objects.standing()
    rows = found.select_related("tie_in__main", "tie_in__job__shop", "by")
    newest = {row.tie_in_id: row for row in reversed(rows)}
    return sorted(newest.values(), key=lambda row: row.seen_at, reverse=True)


def obstacles_with_photos(person: Person) -> list[Obstacle]:
    """Return the same with the photos of each (one query more)."""
    found = obstacles_of(person)
    prefetch_related_objects(found, "photos")
    return found


def obstructed_on(main_id: int) -> set[int]:
    """Return the tie-ins of a main that can't be measured now."""
    return set(Obstacle.objects.standing().filter(tie_in__main_id=main_id).values_list("tie_in_id", flat=True))
