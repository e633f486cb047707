"""Stations as crews write them: 12+40 in feet, 1+240 in meters, or a plain length along the main."""

import re

from geometry.lengths import LengthError, parse_length

PLUS = re.compile(r"([0-9]{1,6})\s*\+\s*([0-9]{1,3}(?:\.[0-9]{1,3})?)")
FOOT_MM = 304.8
LONGEST_MM = 1e9


class StationError(ValueError):
    """A station that can't be read; the message shows two right ways to write it."""


def read_station_mm(text: str, units: str) -> float:
    """Return a station in mm; on a job in feet 12+40 is 1240 ft, on a metric one 1+240 is 1240 m.

    >>> read_station_mm("12+40", "us") / 304.8, read_station_mm("1+240", "metric") / 1000.0
    (1240.0, 1240.0)
    >>> read_station_mm("1240.5 ft", "us") / 304.8, read_station_mm("12.5", "metric")
    (1240.5, 12500.0)

    Raises StationError.
    """
    plain = text.strip()
    if found := PLUS.fullmatch(plain):
        whole, rest = int(found[1]), float(found[2])
        return (whole * 100 + rest) * FOOT_MM if units == "us" else (whole * 1000 + rest) * 1000.0
    try:
        return parse_length(plain, unit="ft" if units == "us" else "m", longest_mm=LONGEST_MM).mm
    except LengthError:
        ways = "12+40 or 1240 ft" if units == "us" else "1+240 or 1240 m"
        raise StationError(f'"{plain[:20]}" is not a station we can read: write {ways}.') from None
