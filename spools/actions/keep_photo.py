"""Keep a photo of what a phone said: the bytes safely on disk before the row says so."""

import hashlib
from collections.abc import Callable
from datetime import datetime
from typing import Any

from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Event, Obstacle, Person, Photo, Reading
from spools.photo_files import kind_of, sent_before, write_whole
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FIELD, Role.FOREMAN})
SAYS_FIT = ("fits", "misfit")

# What a photo may be of: the column of the photo, and how that thing is found by the key it was sent under.
OF: dict[str, tuple[str, Callable[[Person, str], Any]]] = {
    "reading": ("reading", lambda person, key: Reading.objects.for_person(person).filter(key=key).first()),
    "obstacle": ("obstacle", lambda person, key: Obstacle.objects.for_person(person).filter(key=key).first()),
    "fit": (
        "event",
        lambda person, key: Event.objects.filter(key=key, code__in=SAYS_FIT, spool__shop_id=person.the_shop_id).first(),
    ),
}


@all_or_nothing
def keep_photo(
    *,
    of: str,
    its_key: str,
    content: bytes,
    size: int,
    person: Person,
    key: str,
    at: datetime,
    taken_at: datetime | None = None,
) -> tuple[Photo, bool]:
    """Keep one photo of what was sent under ``its_key``; returns it, and whether it was there already.

    ``size`` is how many bytes were sent: fewer arrived means a cut line, and nothing is kept.
    Raises ``ShopError``: not_your_role, not_found (what it is of isn't here yet), invalid, key_reused.
    """
    if not person.may(WHO):
        raise not_your_role("Add a photo", say_roles(WHO))
    digest = hashlib.sha256(content).hexdigest()
    earlier = sent_before(person, key, digest)
    if earlier:
        return earlier, True
    if of not in OF:
        raise invalid({"of": f"Say what it is of: {', '.join(OF)}."})
    column, find = OF[of]
    thing = find(person, its_key)
    if thing is None:
        raise not_found(f"{of} of this photo")
    photo = Photo(
        key=key,
        kind=kind_of(content, size),
        size=len(content),
        sha256=digest,
        by=person,
        taken_at=min(taken_at or at, at),
        received_at=at,
        **{column: thing},
    )
    photo.save(force_insert=True)
    write_whole(photo.path, content)
    return photo, False
