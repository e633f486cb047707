"""Write a length as it is read from a tape: feet, inches and a reduced fraction, or millimeters."""

from dataclasses import dataclass
from math import gcd
from typing import Literal

from geometry.lengths.errors import LengthError
from geometry.lengths.rounding import SIXTEENTH, THIRTY_SECOND, Graduation, count_marks

Style = Literal["auto", "inches", "decimal"]

_BY_DENOMINATOR = {16: SIXTEENTH, 32: THIRTY_SECOND}


@dataclass(frozen=True, slots=True)
class FeetInches:
    """A rounded length in parts; the fraction is reduced, 0 over 1 where there is none."""

    negative: bool
    feet: int
    inches: int
    numerator: int
    denominator: int


def split_feet_inches(length_mm: float, *, denominator: int = 16) -> FeetInches:
    """Round `length_mm` to 16ths or 32nds of an inch and take it apart, for stacked fractions.

    >>> split_feet_inches(1023.9375)
    FeetInches(negative=False, feet=3, inches=4, numerator=5, denominator=16)

    Raises LengthError for another denominator, nan and infinity.
    """
    if denominator not in _BY_DENOMINATOR:
        raise LengthError(f"No tape in {denominator}ths here: choose 16 or 32.")
    marks = count_marks(length_mm, _BY_DENOMINATOR[denominator])
    inches, over = divmod(abs(marks), denominator)
    shared = gcd(over, denominator)
    feet, inches = divmod(inches, 12)
    return FeetInches(marks < 0, feet, inches, over // shared, denominator // shared)


def format_length(length_mm: float, *, graduation: Graduation = SIXTEENTH, style: Style = "auto") -> str:
    """Write `length_mm`, rounded once to `graduation`.

    Style "auto": feet and inches from one foot up, else inches; in millimeters where the graduation is metric.
    Style "inches": inches only. Style "decimal": inches to three places, not rounded to the graduation.

    >>> from geometry.lengths import MILLIMETER
    >>> format_length(1023.9375), format_length(708.025, style="inches"), format_length(912.3, graduation=MILLIMETER)
    ('3\\' 4-5/16"', '27-7/8"', '912 mm')

    Raises LengthError for nan and infinity.
    """
    if graduation.denominator == 0:
        return f"{count_marks(length_mm, graduation)} mm"
    if style == "decimal":
        count_marks(length_mm, graduation)
        return f'{length_mm / 25.4:.3f}"'
    parts = split_feet_inches(length_mm, denominator=graduation.denominator)
    sign = "-" if parts.negative else ""
    if style == "inches":
        return f"{sign}{_inches(parts.feet * 12 + parts.inches, parts)}"
    feet = f"{parts.feet}' " if parts.feet else ""
    return f"{sign}{feet}{_inches(parts.inches, parts, after_feet=bool(parts.feet))}"


def _inches(whole: int, parts: FeetInches, *, after_feet: bool = False) -> str:
    if not parts.numerator:
        return f'{whole}"'
    fraction = f'{parts.numerator}/{parts.denominator}"'
    return f"{whole}-{fraction}" if whole or after_feet else fraction
