"""Steel tag numbers: four digits and a check digit, and never one that reads as another upside down.

Source: H. M. Damm, "Total anti-symmetrische Quasigruppen", dissertation, Marburg 2004: the order-10 table.
"""

from collections.abc import Iterator
from functools import cache

TABLE = (
    (0, 3, 1, 7, 5, 9, 8, 6, 4, 2),
    (7, 0, 9, 2, 1, 5, 4, 8, 6, 3),
    (4, 2, 0, 6, 8, 7, 1, 3, 5, 9),
    (1, 7, 5, 0, 9, 8, 3, 4, 2, 6),
    (6, 1, 2, 3, 0, 4, 5, 9, 7, 8),
    (3, 6, 7, 4, 2, 0, 9, 5, 8, 1),
    (5, 8, 6, 9, 7, 2, 0, 1, 3, 4),
    (8, 9, 4, 5, 3, 6, 2, 0, 1, 7),
    (9, 4, 3, 8, 6, 1, 7, 2, 0, 5),
    (2, 5, 8, 1, 4, 3, 6, 7, 9, 0),
)
MOST_TAGS = 9999
_TURNED = str.maketrans("01689", "01986")


def check_digit(digits: str) -> int:
    """Return the check digit of some digits.

    >>> check_digit("572")
    4
    """
    interim = 0
    for digit in digits:
        interim = TABLE[interim][int(digit)]
    return interim


def tag_number(number: int) -> str:
    """Return the five digits of tag ``number`` (1 to 9999).

    >>> tag_number(214)
    '02145'
    """
    digits = f"{number:04d}"
    return f"{digits}{check_digit(digits)}"


def is_well_formed(tag: str) -> bool:
    """Tell whether five digits carry the right check digit."""
    return len(tag) == 5 and tag.isascii() and tag.isdigit() and check_digit(tag[:4]) == int(tag[4])


def upside_down(tag: str) -> str | None:
    """Return what a tag reads as when turned over, or None when some digit doesn't read at all."""
    if set(tag) - set("01689"):
        return None
    return tag.translate(_TURNED)[::-1]


@cache
def never_issued() -> frozenset[str]:
    """Return the tags that read as another valid tag upside down: these are never stamped."""
    found = set()
    for number in range(1, MOST_TAGS + 1):
        tag = tag_number(number)
        turned = upside_down(tag)
        if turned is not None and turned != tag and is_well_formed(turned):
            found.add(tag)
    return frozenset(found)


def good_tags_after(number: int) -> Iterator[str]:
    """Yield every tag that may be stamped, the one after ``number`` first, around to ``number`` again.

    >>> from itertools import islice
    >>> list(islice(good_tags_after(9998), 2))
    ['99992', '00013']
    """
    for step in range(1, MOST_TAGS + 1):
        tag = tag_number((number + step - 1) % MOST_TAGS + 1)
        if tag not in never_issued():
            yield tag


def is_good_tag(tag: str) -> bool:
    """Tell whether a tag may be bound: well formed, and not one that can be misread upside down."""
    return is_well_formed(tag) and tag not in never_issued()
