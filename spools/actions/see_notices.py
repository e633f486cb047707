"""Mark a person's list as read up to an event."""

from spools.models import NoticeMark, Person
from spools.transactions import all_or_nothing


@all_or_nothing
def see_notices(*, person: Person, up_to: int) -> None:
    """Move the person's own mark on; it never goes back."""
    mark, _ = NoticeMark.objects.get_or_create(person=person)
    if up_to > mark.seen_event:
        mark.seen_event = up_to
        mark.save(update_fields=["seen_event"])
