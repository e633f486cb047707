"""Hours saved against drawing, checking and listing cuts by hand: always a range, and ASSUMED until timed."""

from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from spools.turnaround.shares import Z_95

ENOUGH_TIMED = 10


@dataclass(frozen=True, slots=True)
class HandTime:
    """Minutes that drawing, checking and the cut list of one spool take by hand.

    ``low_min`` and ``high_min`` are what the project manager assumes; ``timed_min`` are spools really timed by hand.
    """

    low_min: float
    high_min: float
    timed_min: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class HoursSaved:
    """Hours saved on a number of spools, low to high; negative hours were lost."""

    n: int
    low_h: float
    high_h: float
    assumed: bool

    def say(self) -> str:
        """Return the range in words, marked ASSUMED while the hand time is."""
        basis = "ASSUMED hand time" if self.assumed else "hand time as timed"
        return f"{self.low_h:.0f} to {self.high_h:.0f} h on {self.n} spools ({basis})"


def hours_saved(*, n: int, here_min: float, hand: HandTime) -> HoursSaved:
    """Return what was saved on ``n`` spools that took ``here_min`` minutes each here.

    From 10 timed spools up the range is the 95 % interval of their mean, before that the assumed low and high.

    >>> hours_saved(n=248, here_min=2.0, hand=HandTime(low_min=20, high_min=45)).say()
    '74 to 178 h on 248 spools (ASSUMED hand time)'
    """
    if hand.low_min > hand.high_min:
        raise ValueError(f"Low hand time {hand.low_min} is above high {hand.high_min}: swap them.")
    assumed = len(hand.timed_min) < ENOUGH_TIMED
    low, high = (hand.low_min, hand.high_min) if assumed else mean_interval(hand.timed_min)
    return HoursSaved(n, n * (low - here_min) / 60, n * (high - here_min) / 60, assumed)


def mean_interval(values: tuple[float, ...]) -> tuple[float, float]:
    """Return the 95 % interval of the mean of at least 10 values, by Student's t."""
    reach = t_95(len(values) - 1) * stdev(values) / sqrt(len(values))
    return fmean(values) - reach, fmean(values) + reach


def t_95(degrees: int) -> float:
    """Return Student's two-sided 95 % point, from the normal one by its expansion in 1/degrees.

    Good to 0.001 from 9 degrees of freedom up. Source: Abramowitz and Stegun, Handbook of Mathematical Functions,
    26.7.5 (from memory; checked in the tests against a reference library).
    """
    z = Z_95
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / degrees + second / degrees**2 + third / degrees**3
