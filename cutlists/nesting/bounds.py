"""What no plan can beat, in whole numbers only.

Covering: the bars opened must hold all widths together. Dual bound: whatever the pieces are worth, if no pattern of a
kind is worth more than its bar, then the bars of any plan cost at least what the pieces are worth (Gilmore and Gomory
1961; scaled to be valid as Farley 1990). The prices come from a linear program in floating point, but they are rounded
down to whole numbers and checked again by one exact table, so no float stands in the proof.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from cutlists.nesting.pricing import Whole
from cutlists.nesting.reduced import Reduced


@dataclass(frozen=True, slots=True)
class Prices:
    """What each width is worth, in units of 1 / grain, and the greatest worth that a bar of each kind can hold."""

    worth: Sequence[int]
    fills: Sequence[int]
    grain: int


def best_fills(best: Whole, capacities: Sequence[int]) -> list[int]:
    """The greatest worth that a bar of each kind can hold, from a table of exact fills."""
    return [int(best[: capacity + 1].max()) for capacity in capacities]


def dual_bound(reduced: Reduced, prices: Prices) -> Fraction:
    """What the bars of any plan cost at least, exactly.

    A kind of which only so many are there may hold more than it costs: each of its bars then lowers the bound by the
    difference. Kinds without limit must not, so all prices are divided by the worst ratio.
    """
    everything = sum(price * count for price, count in zip(prices.worth, reduced.demand, strict=True))
    ratios = [
        Fraction(fill, prices.grain * kind.cost)
        for kind, fill in zip(reduced.kinds, prices.fills, strict=True)
        if not kind.limited and kind.cost and fill > 0
    ]
    ratio = max(ratios, default=Fraction(1))
    bounds = [_bound_at(reduced, everything, prices, each) for each in {ratio, max(ratio, Fraction(1))}]
    return max(Fraction(0), *bounds)


def _bound_at(reduced: Reduced, everything: int, prices: Prices, ratio: Fraction) -> Fraction:
    grain = prices.grain * ratio
    bound = everything / grain
    for kind, fill in zip(reduced.kinds, prices.fills, strict=True):
        if kind.limited or not kind.cost:
            bound += kind.count * min(Fraction(0), kind.cost - fill / grain)
    return bound
