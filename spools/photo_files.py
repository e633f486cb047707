"""Photos as files: what their first bytes say they are, and how they are written so that none is ever half there."""

import os
from pathlib import Path

from spools.errors import invalid, key_reused
from spools.models import Person, Photo

MOST_BYTES = 4_000_000  # a phone shrinks its photos to a tenth of this
FEWEST_BYTES = 100


def kind_of(content: bytes, size: int, *, most: int = MOST_BYTES) -> Photo.Kind:
    """Return what a photo is by its content. Raises ``ShopError`` invalid: cut off, too large, no photo."""
    if len(content) != size:
        raise invalid({"photo": f"{len(content)} of {size} bytes arrived: send it again."})
    if not FEWEST_BYTES <= size <= most:
        raise invalid({"photo": f"A photo has at most {most / 1_000_000:g} MB: let the phone shrink it."})
    if content.startswith(b"\xff\xd8\xff"):
        return Photo.Kind.JPEG
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return Photo.Kind.PNG
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return Photo.Kind.WEBP
    raise invalid({"photo": "This is no photo that we know: send JPEG, PNG or WebP."})


def sent_before(person: Person, key: str, digest: str) -> Photo | None:
    """Return the photo that a key has sent already. Raises ``ShopError`` key_reused for another one under that key."""
    earlier = Photo.objects.for_person(person).filter(key=key).first()
    if earlier and earlier.sha256 != digest:
        raise key_reused()
    return earlier


def write_whole(path: Path, content: bytes) -> None:
    """Write the file whole or not at all, and through to the disk."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(".part")
    with part.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)
    folder = os.open(path.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)
