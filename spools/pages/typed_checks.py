"""What is measured at the bench, read as typed: a length of C and an included angle, each refused beside its field."""

from geometry.angles import AngleError, parse_angle
from geometry.lengths import LengthError
from spools.errors import invalid
from spools.typed_fields import read_length_mm


def typed_check_mm(text: str, units: str) -> float | None:
    """Return C in mm, None where nothing is typed. Raises ``ShopError`` invalid."""
    if not text.strip():
        return None
    try:
        return read_length_mm(text, units)
    except LengthError as refusal:
        raise invalid({"check": str(refusal)}, str(refusal)) from refusal


def typed_included_deg(text: str) -> float | None:
    """Return the included angle in degrees, None where nothing is typed. Raises ``ShopError`` invalid."""
    if not text.strip():
        return None
    try:
        return parse_angle(text.strip()[:20])
    except AngleError as refusal:
        raise invalid({"included": str(refusal)}, str(refusal)) from refusal
