"""Column generation: patterns are made when their price says that they help, until no pattern helps any more.

P. C. Gilmore and R. E. Gomory, Operations Research 9 (1961) and 11 (1963). Prices are smoothed towards the best ones
seen (P. Wentges 1997): with a demand of one for most widths plain prices jump and hundreds of rounds are lost.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from random import Random

from cutlists.nesting.bounds import Prices, best_fills, dual_bound
from cutlists.nesting.master import Master, Relaxed
from cutlists.nesting.pricing import LEFT_OUT, FillTable, Whole
from cutlists.nesting.reduced import Pattern, Reduced
from cutlists.nesting.watch import Watch

SMALL = 1e-9
GRAIN_OF_ALL = 10**12
SMOOTHING = (0.4, 0.0)
SETS_A_ROUND = 10
KINDS_A_SET = 24
FINE_LIMIT = 12_000
EXACT_CELLS = 60_000_000
COARSE_BAR = 4_000
"""Bars longer than FINE_LIMIT units are first planned with widths rounded up to COARSE_BAR units a bar."""


class Columns:
    """The patterns made so far, the bound that they prove and the relaxation over them."""

    def __init__(self, reduced: Reduced, watch: Watch) -> None:
        self.reduced = reduced
        self.watch = watch
        self.dearest = max((kind.cost for kind in reduced.kinds), default=1) or 1
        self.grain = max(1, GRAIN_OF_ALL // self.dearest)
        self.master = Master(reduced, float(self.dearest), watch)
        longest = reduced.longest
        self.step = 0
        self.use_grid(1 if longest <= FINE_LIMIT else -(-longest // COARSE_BAR))
        self.bound = Fraction(0)
        self.prices = Prices([0] * len(reduced.widths), [0] * len(reduced.kinds), self.grain)
        self.relaxed: Relaxed | None = None
        self.rounds = 0

    def add(self, patterns: Sequence[Pattern]) -> int:
        """Add patterns; how many are new."""
        return self.master.add((pattern, self.reduced.kinds[pattern[0]].cost) for pattern in patterns)

    def shake(self, pick: Random) -> None:
        """Solve the relaxation at costs changed by a few thousandths, to start a dive from another corner."""
        self.relaxed = self.master.solve_shaken(pick)

    def use_grid(self, step: int) -> None:
        """Make patterns from widths rounded up and bars rounded down to whole steps: all of them fit the real bar."""
        if step == self.step:
            return
        self.step = step
        self.widths = [-(-width // step) for width in self.reduced.widths]
        self.capacities = [kind.capacity // step for kind in self.reduced.kinds]
        self.table = self.new_table(self.reduced.demand)

    @property
    def can_be_exact(self) -> bool:
        """Whether a table of the true widths is small enough."""
        parts = sum(count.bit_length() for count in self.reduced.demand)
        return parts * self.reduced.longest <= EXACT_CELLS

    def bound_on_grid(self) -> None:
        """A bound from widths and bars rounded down, where the true ones are too many: all true patterns fit there."""
        reduced, relaxed = self.reduced, self.relaxed
        if relaxed is None:
            return
        step = -(-reduced.longest // FINE_LIMIT)
        widths = [max(1, width // step) for width in reduced.widths]
        capacities = [kind.capacity // step for kind in reduced.kinds]
        worth = [max(0, int(price * self.grain)) for price in relaxed.worth]
        best = FillTable(widths, reduced.demand, max(capacities)).price(worth)
        self.step = 0
        bound = dual_bound(reduced, Prices(worth, best_fills(best, capacities), self.grain))
        self.bound = max(self.bound, bound)

    def new_table(self, counts: Sequence[int]) -> FillTable:
        """A table for these counts on the grid in use."""
        return FillTable(self.widths, counts, max(self.capacities))

    def generate(self, enough: Callable[[Fraction, float], bool]) -> Relaxed:
        """Rounds of pricing until no pattern helps, or until bound and value are good enough for the caller."""
        center = self._by_length() if self.relaxed is None else self.relaxed.worth
        nearest = Fraction(-1)
        smoothing = 0
        while True:
            self.watch.check()
            self.rounds += 1
            relaxed = self.relaxed = self.master.solve()
            if enough(self.bound, relaxed.value):
                return relaxed
            alpha = SMOOTHING[smoothing]
            mixed = [alpha * c + (1 - alpha) * w for c, w in zip(center, relaxed.worth, strict=True)]
            worth = [max(0, int(w * self.grain)) for w in mixed]
            best = self.table.price(worth)
            bound = self._note_bound(Prices(worth, best_fills(best, self.capacities), self.grain))
            if bound > nearest:
                center, nearest = mixed, bound
            if self.add(self.helpful(self.table, worth, best, relaxed)):
                continue
            if smoothing + 1 < len(SMOOTHING):
                smoothing += 1
            elif relaxed.missing > SMALL:
                self.master.raise_cover(10.0)
                smoothing = 0
            else:
                return relaxed

    def _note_bound(self, prices: Prices) -> Fraction:
        """What these prices prove; on a coarse grid it holds for the grid only and isn't kept."""
        bound = dual_bound(self.reduced, prices)
        if self.step == 1 and bound > self.bound:
            self.bound, self.prices = bound, prices
        return bound

    def _by_length(self) -> list[float]:
        """First prices: what a piece takes of the cheapest bar."""
        rate = min(kind.cost / kind.capacity for kind in self.reduced.kinds)
        return [width * rate for width in self.reduced.widths]

    def helpful(self, table: FillTable, worth: list[int], best: Whole, relaxed: Relaxed) -> list[Pattern]:
        """Patterns that help at the true prices: the best of each kind, then the best of the widths not yet used.

        Patterns that share no width complete each other, which saves more rounds than many patterns that are alike.
        """
        worth = list(worth)
        helpful: list[Pattern] = []
        for again in range(SETS_A_ROUND if table.limit <= FINE_LIMIT else 2):
            if again:
                best = table.price(worth)
            found = self._best_of_kinds(table, best, relaxed)
            used = {item for _, counts in found for item, _ in counts}
            helpful += found
            if not used:
                break
            for item in used:
                worth[item] = LEFT_OUT
        return helpful

    def _best_of_kinds(self, table: FillTable, best: Whole, relaxed: Relaxed) -> list[Pattern]:
        """The best pattern of each kind that helps; of many kinds, those that promise most."""
        kinds = self.reduced.kinds
        fills = [int(best[: capacity + 1].argmax()) for capacity in self.capacities]
        mu = [relaxed.kind_worth.get(number, 0.0) for number in range(len(kinds))]
        promise = [int(best[fill]) / self.grain + mu[n] - kinds[n].cost for n, fill in enumerate(fills)]
        found = []
        for number in sorted(range(len(kinds)), key=lambda n: (-promise[n], n))[:KINDS_A_SET]:
            counts = table.pattern(fills[number])
            gain = sum(relaxed.worth[item] * count for item, count in counts) + mu[number]
            if gain > kinds[number].cost + SMALL * self.dearest:
                found.append((number, counts))
        return found
