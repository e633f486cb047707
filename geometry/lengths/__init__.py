"""Lengths as the trade writes them: read exactly, rounded once, written as on a tape."""

from geometry.lengths.errors import LengthError
from geometry.lengths.reading import LONGEST_MM, Length, Unit, parse_length
from geometry.lengths.rounding import (
    GRADUATIONS,
    MILLIMETER,
    SIXTEENTH,
    THIRTY_SECOND,
    Graduation,
    graduation,
    round_to,
    round_together,
)
from geometry.lengths.writing import FeetInches, format_length, split_feet_inches

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8

__all__ = [
    "GRADUATIONS",
    "LONGEST_MM",
    "MILLIMETER",
    "MM_PER_FOOT",
    "MM_PER_INCH",
    "SIXTEENTH",
    "THIRTY_SECOND",
    "FeetInches",
    "Graduation",
    "Length",
    "LengthError",
    "Unit",
    "format_length",
    "graduation",
    "parse_length",
    "round_to",
    "round_together",
    "split_feet_inches",
]
