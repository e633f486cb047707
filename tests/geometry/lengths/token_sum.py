"""A second way to read a length: every number by the unit beside it, added up; knows no grammar."""

import re
from fractions import Fraction

PARTS = ("1", "2", "3", "4", "5", "8", "0", "12", "16", "'", '"', "''", " ", "-", "/", ".", "ft", "in", "mm", "m", "cm")
PARTS += ("5/16", "1/2", " and ", " - ")
METRIC = {"mm": 1, "cm": 10, "m": 1000}


def token_sum_mm(typed):
    """Return the mm of a length that is known to be readable, as an exact fraction."""
    tokens = re.findall(r"\d+ ?/ ?\d+|\d*\.\d+|\d+|''|'|\"|[a-z]+", typed)
    numbers = [Fraction(token.replace(" ", "")) for token in tokens if token[0] in "0123456789."]
    units = [token for token in tokens if token[0] not in "0123456789." and token != "and"]
    if units and units[0] in METRIC:
        assert (len(numbers), len(units)) == (1, 1)
        return numbers[0] * METRIC[units[0]]
    feet = Fraction(0)
    if (units and units[0] in ("'", "ft")) or (typed.count("-") == 2 and len(numbers) == 3):
        feet = numbers.pop(0)
    assert len(numbers) <= 2
    if len(numbers) == 2:
        assert numbers[0].denominator == 1
        assert numbers[1] < 1
    return (feet * 12 + sum(numbers)) * Fraction(254, 10)
