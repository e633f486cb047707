"""Keep a photo of how a spool arrived, taken by whoever counts the load, with an account or without."""

import hashlib
from datetime import datetime

from spools.actions.load_lines import one_line, open_load
from spools.errors import ShopError, not_found
from spools.models import Event, LoadLine, Person, Photo
from spools.photo_files import kind_of, sent_before, write_whole
from spools.transactions import all_or_nothing

SHOWS = ("damaged", "misfit", "back", "delivered")  # what a photo may be of
MOST_BYTES = 1_500_000  # the counter's page shrinks them to a third of this; anybody with the sheet may send one
MOST_OF_SPOOL = 4
MOST_OF_LOAD = 40


@all_or_nothing
def keep_load_photo(
    *, load_id: int, spool_id: int, content: bytes, size: int, person: Person, key: str, at: datetime
) -> tuple[Photo, bool]:
    """Keep one photo with what was said last of a spool on this load; returns it, and whether it was there already.

    Raises ``ShopError``: not_your_role, not_found (no such line, or nothing said of it yet), not_left, invalid,
    too_many, key_reused.
    """
    load = open_load(load_id, person)
    line = one_line(load, spool_id)
    digest = hashlib.sha256(content).hexdigest()
    earlier = sent_before(person, key, digest)
    if earlier:
        return earlier, True
    event = _said_last(line)
    if event is None:
        raise not_found("count of that spool yet, so no photo of it,")
    kind = kind_of(content, size, most=MOST_BYTES)
    _must_be_few(load.id, event)
    photo = Photo(event=event, key=key, kind=kind, size=size, sha256=digest, by=person, taken_at=at, received_at=at)
    photo.save(force_insert=True)
    write_whole(photo.path, content)
    return photo, False


def _said_last(line: LoadLine) -> Event | None:
    said = Event.objects.filter(spool_id=line.spool_id, code__in=SHOWS, undone_by=None)
    if line.left_at:
        said = said.filter(received_at__gte=line.left_at)
    return said.order_by("number").last()


def _must_be_few(load_id: int, event: Event) -> None:
    """Refuse more photos than a load needs: its link is open to whoever holds the sheet."""
    of_load = Photo.objects.filter(event__code__in=SHOWS, event__spool__load_lines__load_id=load_id)
    if event.photos.count() >= MOST_OF_SPOOL or of_load.count() >= MOST_OF_LOAD:
        raise ShopError(
            "too_many",
            f"There are enough photos: {MOST_OF_SPOOL} of a spool, {MOST_OF_LOAD} of a load.",
            "Call the shop if there is more to show.",
        )
