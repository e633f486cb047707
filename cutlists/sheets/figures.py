"""How figures are written on paper, in the job's own units, the other unit small beside it."""

from functools import lru_cache
from math import ceil
from typing import Literal

from geometry.drawing.shapes import StackedLength
from geometry.lengths import MILLIMETER, SIXTEENTH, THIRTY_SECOND, format_length, graduation, split_feet_inches

Units = Literal["us", "metric"]
LB_PER_KG = 1 / 0.45359237  # the international pound, exact


@lru_cache(maxsize=2048)
def length_text(mm: float, tape: str) -> str:
    """Write a length on one line as the tape (its graduation's code) shows it."""
    return format_length(mm, graduation=graduation(tape))


@lru_cache(maxsize=2048)
def other_length_text(mm: float, tape: str) -> str:
    """Write the same length in the other unit, for whoever holds the other tape."""
    return format_length(mm, graduation=SIXTEENTH if graduation(tape).denominator == 0 else MILLIMETER)


@lru_cache(maxsize=2048)
def stacked(mm: float, tape: str, height_mm: float) -> StackedLength:
    """Return a length as a label at the origin, its fraction stacked."""
    scale = graduation(tape)
    if scale.denominator == 0:
        return StackedLength(0, 0, "", format_length(mm, graduation=scale), 0, 0, "", height_mm, "start")
    parts = split_feet_inches(mm, denominator=scale.denominator)
    sign = "-" if parts.negative else ""
    feet = f"{sign}{parts.feet}' " if parts.feet else sign
    whole = f"{feet}{parts.inches}" if parts.inches or parts.feet or not parts.numerator else feet
    under = parts.denominator if parts.numerator else 0
    return StackedLength(0, 0, "", whole, parts.numerator, under, '"', height_mm, "start")


def small_length_text(mm: float, tape: str) -> str:
    """Write a root gap or a tolerance: finer than the tape, to 1/32 in or a tenth of a millimeter."""
    if graduation(tape).denominator == 0:
        return f"{mm:.1f}".removesuffix(".0") + " mm"
    return format_length(mm, graduation=THIRTY_SECOND)


def envelope_text(sizes_mm: tuple[float, ...], units: Units) -> str:
    """Write the box that a thing needs, rounded up: whole inches, or whole centimeters in mm."""
    if units == "us":
        return f"{' × '.join(str(ceil(mm / 25.4 - 1e-9)) for mm in sizes_mm)} in"
    return f"{' × '.join(str(10 * ceil(mm / 10 - 1e-9)) for mm in sizes_mm)} mm"


def count_text(count: int, word: str) -> str:
    """Write a count with its word: 1 bar, 2 bars."""
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"


def exact_degrees_text(degrees: float) -> str:
    """Write an angle to the hundredth, without idle zeros: 127.5°."""
    return f"{degrees:.2f}".rstrip("0").rstrip(".") + "°"


def printed_weight(kg: float, units: Units) -> float:
    """Return a weight as it is printed: whole pounds, or half kilograms."""
    return float(round(kg * LB_PER_KG)) if units == "us" else round(kg * 2) / 2


def weight_text(kg: float, units: Units) -> str:
    """Write a weight to one pound, or to half a kilogram."""
    return unit_weight_text(printed_weight(kg, units), units)


def unit_weight_text(weight: float, units: Units) -> str:
    """Write a weight that is already in the sheet's unit, such as a total of printed weights."""
    return f"{weight:,.0f} lb" if units == "us" else f"{weight:,.1f} kg"


def degrees_text(degrees: float) -> str:
    """Write degrees to a quarter, without idle zeros."""
    return f"{round(degrees * 4) / 4:.2f}".rstrip("0").rstrip(".") + "°"


def wall_text(mm: float, units: Units) -> str:
    """Write a wall thickness as the pipe tables do: thousandths of an inch, hundredths of a millimeter."""
    return f'{mm / 25.4:.3f}"' if units == "us" else f"{mm:.2f} mm"
