"""Round to what a tape shows, and round pieces together so that their sum never drifts."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor, isfinite

from geometry.lengths.errors import LengthError


@dataclass(frozen=True, slots=True)
class Graduation:
    """The finest mark that a cut is made to: `step_mm` is exact; `denominator` is 0 where it isn't an inch fraction."""

    code: str
    step_mm: Fraction
    denominator: int

    @property
    def mm(self) -> float:
        """The step as a float."""
        return float(self.step_mm)


SIXTEENTH = Graduation("1/16", Fraction(254, 160), 16)
THIRTY_SECOND = Graduation("1/32", Fraction(254, 320), 32)
MILLIMETER = Graduation("1mm", Fraction(1), 0)
GRADUATIONS = (SIXTEENTH, THIRTY_SECOND, MILLIMETER)

_FLOAT_NOISE_MM = Fraction(1, 10**9)
"""A float this near to a mark or to a half mark is that mark: 1/32 in is 0.79374999... as a float."""


def graduation(code: str) -> Graduation:
    """Return the graduation of that code.

    >>> graduation("1/32").mm
    0.79375

    Raises LengthError for any other code, naming those there are.
    """
    for known in GRADUATIONS:
        if known.code == code:
            return known
    raise LengthError(f'No graduation "{code}": choose 1/16, 1/32 or 1mm.')


def round_to(length_mm: float, graduation: Graduation) -> float:
    """Return the mark nearest to `length_mm`, in mm; a half goes away from zero.

    >>> round_to(0.79375, SIXTEENTH)
    1.5875

    Raises LengthError for nan and infinity.
    """
    return float(count_marks(length_mm, graduation) * graduation.step_mm)


def count_marks(length_mm: float, graduation: Graduation) -> int:
    """Return how many graduations `length_mm` is, rounded.

    A half goes away from zero, so that an offset and its mirror image print alike.
    """
    marks = _marks(abs(length_mm), graduation)
    count = _half_up(marks)
    return -count if length_mm < 0 else count


def round_together(lengths_mm: Sequence[float], graduation: Graduation) -> tuple[float, ...]:
    """Round lengths in mm so that their sum is within half a graduation and each within one.

    The sum is rounded once; the graduations that are left over go to the pieces with the largest remainders.

    >>> inches = [round(mm / 25.4, 4) for mm in round_together([254.762] * 4, SIXTEENTH)]
    >>> inches, sum(inches)
    ([10.0625, 10.0625, 10.0, 10.0], 40.125)

    Raises LengthError for a negative length, nan and infinity.
    """
    if any(length < 0 for length in lengths_mm):
        raise LengthError("A piece can't be shorter than nothing: check the legs and the take-off.")
    marks = [_marks(length, graduation) for length in lengths_mm]
    counts = [floor(mark) for mark in marks]
    left_over = _half_up(sum(marks, Fraction(0))) - sum(counts)
    by_remainder = sorted(range(len(marks)), key=lambda piece: (round(float(counts[piece] - marks[piece]), 9), piece))
    for piece in by_remainder[:left_over]:
        counts[piece] += 1
    return tuple(float(count * graduation.step_mm) for count in counts)


def _marks(length_mm: float, graduation: Graduation) -> Fraction:
    """Return the length in graduations, exact but for float noise near a mark or a half mark."""
    if not isfinite(length_mm):
        raise LengthError("A length must be a number: nan and infinity can't be cut.")
    marks = Fraction(length_mm) / graduation.step_mm
    nearest = Fraction(floor(2 * marks + Fraction(1, 2)), 2)
    return nearest if abs(marks - nearest) * graduation.step_mm <= _FLOAT_NOISE_MM else marks


def _half_up(marks: Fraction) -> int:
    return floor(marks + Fraction(1, 2))
