"""Lengths typed into the saw's and the stock's forms."""

from geometry.lengths import LengthError
from spools.errors import ShopError, invalid
from spools.typed_fields import read_length_mm

MOST_LINES = 200


def typed_length_mm(field: str, text: str, units: str) -> float:
    """Return a typed length in mm. Raises ``ShopError`` invalid, with the field and how to write it."""
    if not text.strip():
        raise invalid({field: "Type a length, such as 21' 0-1/2\"."}, "A length is missing.")
    try:
        return read_length_mm(text, units)
    except LengthError as refusal:
        raise invalid({field: str(refusal)}, str(refusal)) from refusal


def typed_lengths_mm(field: str, text: str, units: str) -> list[float]:
    """Return lengths typed one a line, ``3 x 21'`` for three alike. Raises ``ShopError`` naming each bad line."""
    lengths: list[float] = []
    trouble: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        try:
            lengths += _line(field, line, units)
        except ShopError as refusal:
            trouble.append(f"Line {number}, {line.strip()[:40]}: {refusal.fields[field]}")
    if trouble:
        raise invalid({field: " ".join(trouble[:5])}, "Some lines can't be read.")
    if not lengths:
        raise invalid({field: "Write each bar's length on a line of its own, such as 21' 0-1/2\"."})
    return lengths


def _line(field: str, line: str, units: str) -> list[float]:
    times, sign, rest = line.lower().partition("x")
    if not sign:
        return [typed_length_mm(field, line, units)]
    count = times.strip()
    if not (count.isascii() and count.isdigit()) or not 1 <= int(count) <= MOST_LINES:
        raise invalid({field: f"Write how many before the x, 1 to {MOST_LINES}, such as 3 x 21'."})
    return [typed_length_mm(field, rest, units)] * int(count)
