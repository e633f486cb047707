"""Marks as people type them, and the one form by which two marks are the same."""

import unicodedata

from spools.errors import invalid

LONGEST = 16


def mark_key(mark: str) -> str:
    """Return the form that makes a mark unique: composed, upper case, no blanks.

    Raises ``ShopError`` ``invalid`` for an empty mark, a long one, or one with invisible or direction-changing signs.
    """
    plain = unicodedata.normalize("NFKC", mark).strip()
    if not plain:
        raise invalid({"mark": "Write the tie-in's mark, such as 214."})
    if len(plain) > LONGEST:
        raise invalid({"mark": f"A mark has at most {LONGEST} signs."})
    if any(unicodedata.category(sign).startswith("C") for sign in plain):
        raise invalid({"mark": "The mark holds invisible signs: type it again."})
    return "".join(plain.upper().split())
