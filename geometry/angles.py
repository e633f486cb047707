"""Included and turn: read, exchanged in one place only, and said back in words."""

import re
from math import isfinite


class AngleError(ValueError):
    """A reading in degrees that can't be read for sure; the message shows two right ways to write it."""


_TWO_WAYS = "142.5 or 142 1/2"
_LONGEST_TEXT = 30
_DEGREES = re.compile(
    r"(?P<whole>[0-9]{1,3})"
    r"(?:(?P<decimal>\.[0-9]{1,9})|(?: |-)(?P<over>[0-9]{1,2})/(?P<under>[0-9]{1,2}))?"
    r" ?(?:°|º|˚|deg\.?|degrees?)?"
)
_SEXAGESIMAL = re.compile(
    r"(?P<whole>[0-9]{1,3}) ?(?:°|º|˚|d|deg\.?|degrees?) ?(?P<minutes>[0-9]{1,2}) ?(?:'|′|’|min\.?)"
    r"(?: ?(?P<seconds>[0-9]{1,2}) ?(?:\"|″|”|''|sec\.?))?"
)
_HALVES = {"½": "1/2", "¼": "1/4", "¾": "3/4"}
_PROTRACTOR_PARTS = (2, 3, 4, 6, 8, 10, 12)


def parse_angle(text: str) -> float:
    """Read degrees from 0 to 180: 142, 142.5, 142 1/2, 142°, 142 deg, 142° 30'.

    >>> parse_angle("142 1/2"), parse_angle("142° 30'")
    (142.5, 142.5)

    Returns degrees. Raises AngleError, whose words show two right ways to write it.
    """
    if not isinstance(text, str) or len(text) > _LONGEST_TEXT:
        raise AngleError(f"Degrees must be one short number: write {_TWO_WAYS}.")
    plain = _plain(text)
    degrees = _degrees(plain)
    if degrees is None:
        raise AngleError(f'"{text.strip()}" is not degrees we can read for sure: write {_TWO_WAYS}.')
    if not 0 <= degrees <= 180:
        raise AngleError(f'"{text.strip()}" is over 180 degrees: write the included angle, such as {_TWO_WAYS}.')
    return degrees


def turn_of(*, included_deg: float) -> float:
    """Return the turn (change of direction), 180 - included, both in degrees.

    >>> turn_of(included_deg=142)
    38.0

    Raises AngleError where it is not from 0 to 180.
    """
    return _supplement(included_deg, "The included angle")


def included_of(*, turn_deg: float) -> float:
    """Return the included angle, 180 - turn, both in degrees.

    >>> included_of(turn_deg=38)
    142.0

    Raises AngleError where it is not from 0 to 180.
    """
    return _supplement(turn_deg, "The turn")


def say_turn(*, included_deg: float) -> str:
    """Say in words what a reading means, so that a supplement read off the jig is heard.

    >>> say_turn(included_deg=142)
    'gentle bend: turns 38 degrees (included 142)'
    >>> say_turn(included_deg=40)
    'sharp bend: turns 140 degrees (included 40), more than square'

    Raises AngleError where it is not from 0 to 180.
    """
    turn_deg = turn_of(included_deg=included_deg)
    figures = f"turns {turn_deg:.10g} degrees (included {included_deg:.10g})"
    if turn_deg < 1e-9:
        return "straight: no turn (included 180)"
    if abs(turn_deg - 90) < 1e-9:
        return f"square: {figures}"
    return f"gentle bend: {figures}" if turn_deg < 90 else f"sharp bend: {figures}, more than square"


def _supplement(degrees: float, name: str) -> float:
    if not (isfinite(degrees) and 0 <= degrees <= 180):
        raise AngleError(f"{name} must be from 0 to 180 degrees, not {degrees:g}: read the jig again.")
    return 180.0 - degrees


def _plain(text: str) -> str:
    spaced = text
    for char, fraction in _HALVES.items():
        spaced = spaced.replace(char, f" {fraction} ")
    return re.sub(r"\s+", " ", spaced).strip().lower().replace(" °", "°")


def _degrees(plain: str) -> float | None:
    if found := _SEXAGESIMAL.fullmatch(plain):
        minutes, seconds = int(found["minutes"]), int(found["seconds"] or 0)
        return int(found["whole"]) + minutes / 60 + seconds / 3600 if minutes < 60 and seconds < 60 else None
    found = _DEGREES.fullmatch(plain)
    if found is None:
        return None
    if not found["over"]:
        return float(found["whole"] + (found["decimal"] or ""))
    over, under = int(found["over"]), int(found["under"])
    return int(found["whole"]) + over / under if under in _PROTRACTOR_PARTS and over < under else None
