"""Seeded problems in the style of the published cutting-stock families, and pipe days of our own.

Styles after: Falkenauer 1996 (uniform, triplets), Scholl, Klein and Juergens 1997 (three sets), Schwerin and Waescher
1997, Schoenfield 2002 (28 hard ones: 160 to 200 widths of 1 to 800 in bars of 1000, filled almost to the end). The
published instances themselves are not here: they are read from a path given on the command line.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from random import Random

from cutlists.nesting.problem import Demand, Problem, Stock

FOOT = 12


def single_length(capacity: int, lengths: list[int]) -> Problem:
    """One stock length without limit, each bar counting one; no kerf, no trim."""
    counts = Counter(lengths)
    demand = tuple(Demand(f"P{length}", length, counts[length]) for length in sorted(counts, reverse=True))
    return Problem(0, 0, 0, (Stock("S", capacity, None, 1),), demand)


def uniform(seed: int, pieces: int = 250) -> Problem:
    """20 to 100 in bars of 150."""
    pick = Random(seed)
    return single_length(150, [pick.randint(20, 100) for _ in range(pieces)])


def triplets(seed: int, pieces: int = 120) -> Problem:
    """Every bar of 1000 holds three pieces and nothing is left: the hardest case for filling from the longest down."""
    pick = Random(seed)
    lengths = []
    for _ in range(pieces // 3):
        first = pick.randint(380, 490)
        second = pick.randint(250, (1000 - first) // 2)
        lengths += [first, second, 1000 - first - second]
    return single_length(1000, lengths)


def scholl_1(seed: int, pieces: int = 200) -> Problem:
    """1, 20 or 30 to 100 in bars of 100, 120 or 150."""
    pick = Random(seed)
    shortest, capacity = pick.choice([1, 20, 30]), pick.choice([100, 120, 150])
    return single_length(capacity, [pick.randint(shortest, 100) for _ in range(pieces)])


def scholl_2(seed: int, pieces: int = 200) -> Problem:
    """3, 5, 7 or 9 pieces a bar of 1000 on average, 20, 50 or 90 % around it."""
    pick = Random(seed)
    mean, spread = 1000 // pick.choice([3, 5, 7, 9]), pick.choice([0.2, 0.5, 0.9])
    low, high = int(mean * (1 - spread)), int(mean * (1 + spread))
    return single_length(1000, [pick.randint(low, high) for _ in range(pieces)])


def scholl_3(seed: int, pieces: int = 200) -> Problem:
    """20,000 to 35,000 in bars of 100,000."""
    pick = Random(seed)
    return single_length(100_000, [pick.randint(20_000, 35_000) for _ in range(pieces)])


def schwerin(seed: int, pieces: int = 120) -> Problem:
    """150 to 200 in bars of 1000."""
    pick = Random(seed)
    return single_length(1000, [pick.randint(150, 200) for _ in range(pieces)])


def hard(seed: int, pieces: int = 180) -> Problem:
    """1 to 800 in bars of 1000, stretched by one piece until the bars are filled to the last few thousandths."""
    pick = Random(seed)
    lengths = [pick.randint(1, 800) for _ in range(pieces)]
    gap = -sum(lengths) % 1000 - pick.randint(0, 12)
    for place in range(pieces):
        step = max(1 - lengths[place], min(800 - lengths[place], gap))
        lengths[place] += step
        gap -= step
    return single_length(1000, lengths)


def loose(seed: int) -> Problem:
    """1 to 800 in bars of 1000, 160, 180 or 200 pieces: a few of these are as hard as the published hard ones."""
    pick = Random(seed * 7 + 1)
    pieces = pick.choice([160, 180, 200])
    return single_length(1000, [pick.randint(1, 800) for _ in range(pieces)])


def above_round_up() -> Problem:
    """The relaxation is 63.9986 bars, 64 are not enough: the gap that rounding up can't close."""
    return loose(537)


FAMILIES: dict[str, Callable[[int], Problem]] = {
    "uniform": uniform,
    "triplets": triplets,
    "scholl_1": scholl_1,
    "scholl_2": scholl_2,
    "scholl_3": scholl_3,
    "schwerin": schwerin,
    "hard": hard,
    "loose": loose,
}


def pipe_day(
    seed: int,
    *,
    pieces: int = 700,
    shortest_in: int = 11,
    longest_in: int = 57,
    per_inch: int = 16,
    drops: int = 30,
    doubles: bool = True,
    measured_per_inch: int = 2,
) -> Problem:
    """A day at the saw: singles of 20'6" to 21'6" measured to 1/2 in (or finer), doubles of 40', drops of 18 to 200 in.

    Kerf 1/8 in, shortest useful drop 18 in. A single counts 21 ft, a double 40 ft, a drop nothing.
    """
    pick = Random(seed)
    lengths = Counter(pick.randint(shortest_in * per_inch, longest_in * per_inch) for _ in range(pieces))
    demand = tuple(Demand(f"P{n}", length, count) for n, (length, count) in enumerate(sorted(lengths.items())))
    needed_ft = sum(length * count for length, count in lengths.items()) / per_inch / FOOT
    singles = int(needed_ft * 0.75 / 21) + 4
    step, fine = per_inch // measured_per_inch, measured_per_inch
    measured = Counter(pick.randint(fine * (20 * FOOT + 6), fine * (21 * FOOT + 6)) * step for _ in range(singles))
    stock = [
        Stock(f"SGL-{n}", length, count, 21 * FOOT * per_inch)
        for n, (length, count) in enumerate(sorted(measured.items()))
    ]
    if doubles:
        stock.append(Stock("DBL", 40 * FOOT * per_inch, None, 40 * FOOT * per_inch))
    else:
        stock.append(Stock("SGL", (20 * FOOT + 6) * per_inch, None, 21 * FOOT * per_inch))
    stock += [Stock(f"DROP-{n}", pick.randint(18 * per_inch, 200 * per_inch), 1, remnant=True) for n in range(drops)]
    return Problem(per_inch // 8, 0, 18 * per_inch, tuple(stock), demand)
