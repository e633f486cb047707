"""Lengths in the job's own units, for messages and pages: the one way out from millimeters."""

import re

from geometry.lengths import MILLIMETER, SIXTEENTH, Graduation, format_length, graduation, parse_length


def job_graduation(units: str, code: str = "1/16") -> Graduation:
    """Return the graduation that a job's lengths are rounded to."""
    if units == "metric":
        return MILLIMETER
    return graduation(code) if code != "1mm" else SIXTEENTH


def say_length(length_mm: float, units: str, code: str = "1/16") -> str:
    """Return a length as the job writes it: ``3' 4-5/16"`` or ``1024 mm``."""
    return format_length(length_mm, graduation=job_graduation(units, code))


def say_station(station_mm: float, units: str) -> str:
    """Return a station along the main: ``12+40`` in feet, or meters."""
    if units == "metric":
        return f"{station_mm / 1000:.1f} m"
    feet = round(station_mm / 304.8)
    return f"{feet // 100}+{feet % 100:02d}"


# 1' 1-5/8", 6", 3/32", 8 in, 30 ft: as the geometry's findings write them.
_LENGTH = re.compile(r"""(?<![\w.-])(?:\d+' ?)?(?:\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?:"|\ in\b)|(?<![\w.-])\d+ ft\b""")


def in_units(text: str, units: str) -> str:
    """Return a text with the lengths in it as a metric job reads them; untouched for a job in feet and inches.

    >>> in_units("Taken as 8 in, wall + 1/8 in, longer than 30 ft.", "metric")
    'Taken as 203 mm, wall + 3.2 mm, longer than 9144 mm.'
    """
    return _LENGTH.sub(lambda found: _as_metric(found[0]), text) if units == "metric" else text


def _as_metric(text: str) -> str:
    length_mm = parse_length(text).mm
    if length_mm >= 25.4:
        return format_length(length_mm, graduation=MILLIMETER)
    return f"{length_mm:.1f}".removesuffix(".0") + " mm"
