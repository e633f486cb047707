"""Read a length from what people type, by one strict grammar and exact fractions."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from geometry.lengths.errors import LengthError
from geometry.lengths.refusals import refusal
from geometry.lengths.typed import plain_text

Unit = Literal["in", "ft", "mm", "m"]

LONGEST_MM = 30480.0
"""100 ft: no pipe, leg or spool of this trade is longer. Common practice, no source."""

_MM_PER: dict[str, Fraction] = {
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}
_TAPE_DENOMINATORS = (2, 4, 8, 16, 32, 64)

_WHOLE = r"[0-9]{1,9}"
_DECIMAL = r"[0-9]{1,9}\.[0-9]{1,12}"
_NUMBER = rf"(?:{_DECIMAL}|{_WHOLE}|\.[0-9]{{1,12}})"
_FRACTION = r"[0-9]{1,3} ?/ ?[0-9]{1,3}"
_MIXED = rf"{_WHOLE}(?:-| and | & | ){_FRACTION}"
_FOOT = r" ?(?:'|(?:feet|foot|ft)(?![a-z])(?:\.(?![0-9]))?)"
_INCH = r' ?(?:"|(?:inches|inch|ins|in)(?![a-z])\.?)'
_JOIN = r"(?: ?- ?| and | & | ?)"

_METRIC_FORM = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>mm|cm|m|(?:milli|centi|)met(?:er|re)s?)\.?")
_FEET_FORM = re.compile(rf"(?P<feet>{_NUMBER}){_FOOT}")
_FEET_INCHES_FORM = re.compile(
    rf"(?P<feet>{_WHOLE}){_FOOT}{_JOIN}(?P<inches>{_MIXED}|{_FRACTION}|{_DECIMAL}|{_WHOLE})(?:{_INCH})?"
)
_THREE_PARTS_FORM = re.compile(rf"(?P<feet>{_WHOLE})-(?P<inches>{_WHOLE}-{_FRACTION})(?:{_INCH})?")
_INCHES_FORM = re.compile(rf"(?P<inches>{_MIXED}|{_FRACTION}|{_NUMBER}){_INCH}")
_FRACTION_FORM = re.compile(rf"{_MIXED}|{_FRACTION}")
_NUMBER_FORM = re.compile(_NUMBER)
_PARTS = re.compile(rf"(?:(?P<whole>{_WHOLE})(?:-| and | & | ))?(?P<over>[0-9]+) ?/ ?(?P<under>[0-9]+)")


@dataclass(frozen=True, slots=True)
class Length:
    """A length in mm beside the very text it was read from."""

    mm: float
    typed: str


def parse_length(
    text: str, *, unit: Unit = "in", allow_negative: bool = False, longest_mm: float = LONGEST_MM
) -> Length:
    """Read one length.

    Takes feet, inches and fractions in every usual form, decimal inches, decimal feet, mm, cm and m. `unit` is
    the unit of a number that has none written. What could be read in two ways is refused, never guessed.
    A minus sign right before the length counts only with `allow_negative`.

    >>> parse_length("3' 4-5/16\\"").mm
    1023.9375
    >>> parse_length("3-4-5/16").mm, parse_length("40.3125").mm, parse_length("1024 mm").mm
    (1023.9375, 1023.9375, 1024.0)

    Raises LengthError, whose words show two right ways to write it.
    """
    if not isinstance(text, str):
        raise LengthError(f'A length must be text, not {type(text).__name__}: write 3\' 4-5/16" or 40-5/16".')
    plain = plain_text(text)
    negative = allow_negative and plain.startswith("-")
    exact = _exact_mm(plain.removeprefix("-") if negative else plain, unit)
    if exact is None:
        raise LengthError(refusal(plain, unit))
    if exact > Fraction(longest_mm):
        limit_ft = longest_mm / 304.8
        raise LengthError(
            f'"{text.strip()}" is longer than {limit_ft:g} ft: check the unit, write 3\' 4-5/16" or 1024 mm.'
        )
    return Length(float(-exact if negative else exact), text)


def _exact_mm(plain: str, unit: Unit) -> Fraction | None:
    if found := _METRIC_FORM.fullmatch(plain):
        return Fraction(found["number"]) * _MM_PER[_metric_unit(found["unit"])]
    if found := _FEET_FORM.fullmatch(plain):
        return Fraction(found["feet"]) * _MM_PER["ft"]
    if found := _FEET_INCHES_FORM.fullmatch(plain):
        return _feet_inches_mm(found)
    if found := _INCHES_FORM.fullmatch(plain):
        return _inches_mm(found["inches"])
    return _unmarked_mm(plain, unit)


def _unmarked_mm(plain: str, unit: Unit) -> Fraction | None:
    """Read what has no unit: a fraction alone is of an inch, three parts are feet, inches and a fraction."""
    if _NUMBER_FORM.fullmatch(plain):
        return Fraction(plain) * _MM_PER[unit]
    if unit in ("in", "ft") and (found := _THREE_PARTS_FORM.fullmatch(plain)):
        return _feet_inches_mm(found)
    if unit == "in" and _FRACTION_FORM.fullmatch(plain):
        return _inches_mm(plain)
    return None


def _metric_unit(written: str) -> str:
    if written in _MM_PER:
        return written
    return {"milli": "mm", "centi": "cm"}.get(written[:5], "m")


def _feet_inches_mm(found: re.Match[str]) -> Fraction | None:
    inches_mm = _inches_mm(found["inches"])
    if inches_mm is None or inches_mm >= _MM_PER["ft"]:
        return None
    return Fraction(found["feet"]) * _MM_PER["ft"] + inches_mm


def _inches_mm(written: str) -> Fraction | None:
    """Return the mm of written inches, or None where a tape has no such fraction."""
    found = _PARTS.fullmatch(written)
    if found is None:
        return Fraction(written) * _MM_PER["in"]
    over, under = int(found["over"]), int(found["under"])
    if under not in _TAPE_DENOMINATORS or over >= under:
        return None
    return (int(found["whole"] or 0) + Fraction(over, under)) * _MM_PER["in"]
