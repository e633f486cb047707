"""A share of spools with its count and its honest range."""

from dataclasses import dataclass
from math import sqrt

FEWEST_FOR_PERCENT = 20
Z_95 = 1.959963984540054  # two-sided 95 % point of the normal distribution


@dataclass(frozen=True, slots=True)
class Share:
    """So many of so many; under 20 it is said in counts, never in percent.

    >>> Share(186, 221).say()
    '84 %, 186 of 221 (95 % sure: 79 to 88 %)'
    >>> Share(7, 9).say()
    '7 of 9'
    """

    hits: int
    n: int

    @property
    def percent(self) -> int | None:
        """The whole percent, or nothing under 20 spools; 100 only if all, 0 only if none."""
        if self.n < FEWEST_FOR_PERCENT:
            return None
        rounded = round(100 * self.hits / self.n)
        if 0 < self.hits < self.n:
            return min(max(rounded, 1), 99)
        return rounded

    def say(self) -> str:
        """Return the share in words, with its count and, from 20 spools up, its range."""
        if self.n == 0:
            return "none yet"
        if self.percent is None:
            return f"{self.hits} of {self.n}"
        low, high = wilson(self.hits, self.n)
        return f"{self.percent} %, {self.hits} of {self.n} (95 % sure: {low * 100:.0f} to {high * 100:.0f} %)"


def wilson(hits: int, n: int, *, z: float = Z_95) -> tuple[float, float]:
    """Return Wilson's score interval of a proportion, as parts of 1.

    Source: E. B. Wilson, Probable inference, the law of succession, and statistical inference, J. Am. Stat. Assoc. 22
    (1927) 209-212; without continuity correction.

    >>> low, high = wilson(81, 263)
    >>> round(low, 4), round(high, 4)
    (0.2553, 0.3662)
    """
    if not 0 <= hits <= n or n == 0:
        raise ValueError(f"{hits} of {n} is not a share: give 0 to n out of at least 1.")
    part = hits / n
    middle = part + z * z / (2 * n)
    reach = z * sqrt(part * (1 - part) / n + z * z / (4 * n * n))
    whole = 1 + z * z / n
    low = 0.0 if hits == 0 else (middle - reach) / whole
    high = 1.0 if hits == n else (middle + reach) / whole
    return low, high
