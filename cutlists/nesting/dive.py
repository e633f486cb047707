"""From a relaxed plan to a whole one: fix the surest pattern, price again for what is left, until nothing is left.

The residual idea of Waescher and Gau (1996) with new patterns made on the way down, so that the last bars don't have
to be cut from patterns made for another mix of pieces.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cutlists.nesting.columns import SMALL, Columns
from cutlists.nesting.covering import Covering
from cutlists.nesting.fill_plans import BITS_LIMIT, fill_plans
from cutlists.nesting.first_fit import best_fit, decreasing, preferences
from cutlists.nesting.master import Relaxed
from cutlists.nesting.reduced import Layout, Pattern, Reduced
from cutlists.nesting.watch import Watch

ROUNDS_A_STEP = 40
FILL_AGAIN = 0.85
"""A quick plan for the rest is tried each time that this part of the pieces is still there."""
WHOLE = 1 - 1e-6


@dataclass(slots=True)
class Place:
    """Where a dive stands: what is fixed, what is left, and what was tried from here and led nowhere."""

    left: list[int]
    bars_left: list[int]
    fixed: Layout
    spent: int
    barred: set[Pattern] = field(default_factory=set)

    def fix(self, pattern: Pattern, times: int, cost: int) -> None:
        """Cut so many bars to a pattern, without the pieces that nobody needs any more."""
        kind, counts = pattern
        for _ in range(min(times, self.bars_left[kind])):
            cut = tuple((item, min(count, self.left[item])) for item, count in counts if self.left[item])
            if not cut:
                return
            self.fixed[kind, cut] = self.fixed.get((kind, cut), 0) + 1
            self.spent += cost
            self.bars_left[kind] -= 1
            for item, count in cut:
                self.left[item] -= count

    def below(self) -> Place:
        """A copy from which the next pattern is fixed."""
        return Place(list(self.left), list(self.bars_left), dict(self.fixed), self.spent)


class Dive:
    """Ways down from the relaxed plan; `below` is the new stock that they have to beat.

    Where what is left can't beat it any more, the last step is taken back and barred (limited discrepancy search,
    W. Harvey and M. Ginsberg 1995), at most `returns` times.
    """

    def __init__(self, columns: Columns, covering: Covering, below: int, returns: int = 0) -> None:
        self.columns = columns
        self.covering = covering
        self.below = below
        self.returns = returns
        self.reduced = columns.reduced

    def run(self) -> Layout | None:
        """A plan that uses less than `below`, or None where no way down was found."""
        try:
            return self._descend()
        finally:
            counts = [kind.count for kind in self.reduced.kinds]
            self.columns.master.want(self.reduced.demand, counts, [True] * len(self.columns.master.patterns))

    def _descend(self) -> Layout | None:
        relaxed = self.columns.relaxed or self.columns.master.solve()
        counts = [kind.count for kind in self.reduced.kinds]
        path: list[tuple[Place, Pattern]] = []
        place = Place(list(self.reduced.demand), counts, {}, 0)
        worth_filling = sum(place.left)
        while True:
            self.columns.watch.check()
            if self._hopeless(place, relaxed):
                if not path or not self.returns:
                    return None
                self.returns -= 1
                place, tried = path.pop()
                place.barred.add(tried)
            else:
                chosen = self._surest(relaxed)
                if not chosen:
                    return None
                path.append((place, chosen[0][0]))
                place = place.below()
                for pattern, times in chosen:
                    place.fix(pattern, times, self.reduced.kinds[pattern[0]].cost)
                if sum(place.left) <= worth_filling:
                    worth_filling = int(sum(place.left) * FILL_AGAIN)
                    finished = self._finish(place)
                    if finished is not None:
                        return finished
            relaxed = self._relax(place)

    def _surest(self, relaxed: Relaxed) -> list[tuple[Pattern, int]]:
        """Every pattern used once or more, as often as whole; or else the one nearest to a whole bar, fullest first."""
        patterns = self.columns.master.patterns
        used = [(amount, pattern) for amount, pattern in zip(relaxed.amounts, patterns, strict=False) if amount > SMALL]
        whole = [(pattern, int(amount + 1 - WHOLE)) for amount, pattern in used if amount >= WHOLE]
        if whole or not used:
            return whole
        reduced = self.reduced
        best = max(used, key=lambda u: (round(u[0], 6), reduced.filled(u[1][1]) - reduced.kinds[u[1][0]].capacity))
        return [(best[1], 1)]

    def _finish(self, place: Place) -> Layout | None:
        """What is fixed and a quick plan for the rest, if together they use little enough."""
        rest = self.reduced.rest(place.left, place.bars_left)
        for layout in quick_rest(rest, self.below - place.spent, self.columns.watch):
            together = dict(place.fixed)
            for pattern, times in layout.items():
                together[pattern] = together.get(pattern, 0) + times
            return together
        return None

    def _relax(self, place: Place) -> Relaxed:
        """The relaxed plan for what is left, with new patterns as long as it looks hopeless."""
        columns, left = self.columns, place.left
        master = columns.master
        master.want(left, place.bars_left, [self._fits(place, pattern) for pattern in master.patterns])
        table = columns.new_table(left)
        relaxed = master.solve()
        for step in range(ROUNDS_A_STEP):
            if step and not self._hopeless(place, relaxed):
                break
            worth = [max(0, int(price * columns.grain)) for price in relaxed.worth]
            fresh = columns.helpful(table, worth, table.price(worth), relaxed)
            if not columns.add(fresh):
                break
            relaxed = master.solve()
        return relaxed

    def _hopeless(self, place: Place, relaxed: Relaxed) -> bool:
        """Whether what is fixed and the relaxed plan for the rest can't beat the best plan."""
        needed = int(relaxed.value + 1 - 1e-6 * self.columns.dearest)
        return self.covering.lift(place.spent + needed) >= self.below

    @staticmethod
    def _fits(place: Place, pattern: Pattern) -> bool:
        kind, counts = pattern
        return (
            place.bars_left[kind] > 0
            and pattern not in place.barred
            and all(place.left[item] >= count for item, count in counts)
        )


def quick_rest(rest: Reduced, below: int, watch: Watch) -> list[Layout]:
    """Quick plans for a rest that use less new stock than `below`."""
    if below <= 0:
        return []
    if not any(rest.demand):
        return [{}]
    preference = next(iter(preferences(rest)))
    fitted = best_fit(rest, decreasing(rest), preference)
    if fitted is not None and rest.levels(fitted)[0] < below:
        return [fitted]
    covering = Covering(rest, below - 1)
    plans = fill_plans(rest.on_grid(BITS_LIMIT), covering, 0, below, watch)
    return next(([f.layout] for f in plans if f.complete and rest.levels(f.layout)[0] < below), [])
