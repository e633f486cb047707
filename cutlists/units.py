"""The saw's whole-number unit: 1/320 mm, in which both 1/64 in (127) and 0.1 mm (32) are exact."""

from fractions import Fraction

PER_MM = 320
PER_INCH = 8128
PER_64TH = 127


def to_units_down(mm: float) -> int:
    """Return a stock length in saw units, never longer than it is but for a millionth of a millimeter of float dust."""
    return int((Fraction(mm) + Fraction(1, 10**6)) * PER_MM)


def to_units(mm: float) -> int:
    """Return a rounded cut length in saw units, to the nearest unit."""
    return round(Fraction(mm) * PER_MM)


def to_mm(units: int) -> float:
    """Return saw units as millimeters."""
    return units / PER_MM
