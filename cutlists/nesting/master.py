"""The restricted master problem: how many bars of each pattern known so far, as a linear program in HiGHS.

Every row is one width (cut at least, or exactly, as often as asked for) or one kind of bar of which only so many are
there. One thread everywhere: HiGHS has one pool of threads per process, and two instances with different counts fail
without a word.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import gcd
from random import Random

import highspy
import numpy as np
import numpy.typing as npt

from cutlists.nesting.reduced import Pattern, Reduced
from cutlists.nesting.watch import Stopped, Watch

GRACE = 0.1
"""Seconds over the limit that a linear program may take: HiGHS adds up the time of all runs of one instance."""

Costs = npt.NDArray[np.float64]


class SolverTrouble(RuntimeError):
    """HiGHS gave no usable answer; the plan found so far stands."""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A solved linear program: value, prices of widths and kinds, and how much of each pattern."""

    value: float
    worth: list[float]
    kind_worth: dict[int, float]
    amounts: list[float]
    ceiling_worth: float
    """What one unit less of new stock would cost, where new stock has a ceiling; 0 or less."""
    missing: float
    """How much of the artificial cover is still in use; 0 once the patterns known can do the work."""


def quiet_highs() -> highspy.Highs:
    """A HiGHS instance that prints nothing and keeps to one thread."""
    highs = highspy.Highs()  # type: ignore[no-untyped-call]
    highs.setOptionValue("output_flag", False)  # noqa: FBT003
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 1)
    return highs


class Master:
    """Patterns known so far and the linear program over them; costs are divided by `scale` for HiGHS.

    Pieces are cut at least as often as asked for; with a ceiling on new stock exactly as often, as scrap counts then.
    """

    def __init__(self, reduced: Reduced, scale: float, watch: Watch, *, ceiling: int | None = None) -> None:
        self.reduced = reduced
        self.scale = scale
        self.watch = watch
        self.patterns: list[Pattern] = []
        self.places: dict[Pattern, int] = {}
        self.costs: dict[Pattern, float] = {}
        self.limited = [number for number, kind in enumerate(reduced.kinds) if kind.limited]
        self._row_of_kind = {kind: len(reduced.widths) + row for row, kind in enumerate(self.limited)}
        self._highs = quiet_highs()
        self._highs.setOptionValue("solver", "simplex")
        self._highs.setOptionValue("presolve", "off")
        self._highs.setOptionValue("simplex_strategy", 4)
        self._exactly = ceiling is not None
        self._ceiling = ceiling
        self._unit = gcd(*(kind.cost for kind in reduced.kinds)) or 1
        self._cover: list[float] = []
        self._add_rows()
        self._add_cover()

    def add(self, columns: Iterable[tuple[Pattern, int]]) -> int:
        """Add patterns with their costs; how many of them are new."""
        fresh = [(pattern, cost) for pattern, cost in dict(columns).items() if pattern not in self.places]
        starts: list[int] = []
        rows: list[int] = []
        values: list[float] = []
        for pattern, cost in fresh:
            self.costs[pattern] = cost / self.scale
            self.places[pattern] = len(self.patterns)
            self.patterns.append(pattern)
            kind, counts = pattern
            starts.append(len(rows))
            rows += [item for item, _ in counts]
            values += [float(count) for _, count in counts]
            if kind in self._row_of_kind:
                rows.append(self._row_of_kind[kind])
                values.append(1.0)
            if self._exactly and self.reduced.kinds[kind].cost:
                rows.append(self._ceiling_row)
                values.append(float(self.reduced.kinds[kind].cost // self._unit))
        if fresh:
            costs = np.array([cost / self.scale for _, cost in fresh])
            self._add_columns(costs, starts, rows, values)
        return len(fresh)

    def solve(self) -> Relaxed:
        """Solve the linear program over the patterns known."""
        highs = self._highs
        highs.setOptionValue("time_limit", highs.getRunTime() + self.watch.left + GRACE)
        status = highs.run()
        if highs.getModelStatus() == highspy.HighsModelStatus.kTimeLimit:
            raise Stopped
        if status == highspy.HighsStatus.kError or highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise SolverTrouble(f"the linear program stopped with {highs.getModelStatus()}")
        solution = highs.getSolution()
        width_rows = len(self.reduced.widths)
        amounts = list(solution.col_value)
        duals = list(solution.row_dual)
        return Relaxed(
            value=highs.getInfo().objective_function_value * self.scale,
            worth=[dual * self.scale for dual in duals[:width_rows]],
            kind_worth={kind: duals[row] * self.scale for kind, row in self._row_of_kind.items()},
            amounts=amounts[width_rows:],
            ceiling_worth=duals[self._ceiling_row] * self.scale / self._unit if self._exactly else 0.0,
            missing=sum(amounts[:width_rows]),
        )

    def solve_shaken(self, pick: Random) -> Relaxed:
        """Solve once at costs changed by up to a thousandth each; the costs are put back."""
        number, first = len(self.patterns), len(self.reduced.widths)
        places = np.arange(first, first + number, dtype=np.int32)
        costs = np.array([self.costs[pattern] for pattern in self.patterns])
        noise = np.array([1 + pick.random() / 1000 for _ in range(number)])
        self._highs.changeColsCost(number, places, costs * noise)
        relaxed = self.solve()
        self._highs.changeColsCost(number, places, costs)
        return relaxed

    @property
    def _ceiling_row(self) -> int:
        return len(self.reduced.widths) + len(self.limited)

    def want(self, demand: Sequence[int], left_of_kind: Sequence[int], usable: Sequence[bool]) -> None:
        """Plan for this demand and stock, with only the patterns marked usable."""
        infinity = highspy.kHighsInf
        for item, count in enumerate(demand):
            self._highs.changeRowBounds(item, float(count), float(count) if self._exactly else infinity)
        for kind, row in self._row_of_kind.items():
            self._highs.changeRowBounds(row, -infinity, float(left_of_kind[kind]))
        first = len(self.reduced.widths)
        number = len(usable)
        places = np.arange(first, first + number, dtype=np.int32)
        upper = np.where(np.array(usable, dtype=np.bool_), infinity, 0.0)
        self._highs.changeColsBounds(number, places, np.zeros(number), upper)

    def raise_cover(self, factor: float) -> None:
        """Make the artificial cover dearer, where the patterns known left some of it in use."""
        self._cover = [cost * factor for cost in self._cover]
        for item, cost in enumerate(self._cover):
            self._highs.changeColCost(item, cost)

    def _add_rows(self) -> None:
        infinity = highspy.kHighsInf
        demand = self.reduced.demand
        lower = [float(count) for count in demand] + [-infinity] * len(self.limited)
        upper = [float(count) if self._exactly else infinity for count in demand]
        upper += [float(self.reduced.kinds[kind].count) for kind in self.limited]
        if self._ceiling is not None:
            lower.append(-infinity)
            upper.append(float(self._ceiling // self._unit))
        none = np.empty(0, dtype=np.int32)
        self._highs.addRows(
            len(lower), np.array(lower), np.array(upper), 0, np.zeros(len(lower), dtype=np.int32), none, np.empty(0)
        )

    def _add_cover(self) -> None:
        """One artificial column a width, at 1.6 times its share of a bar: it keeps the first prices near the truth."""
        kinds = [kind for kind in self.reduced.kinds if kind.cost] or list(self.reduced.kinds)
        per_length = max(max(kind.cost, 1) / kind.capacity for kind in kinds)
        self._cover = [1.6 * width * per_length / self.scale for width in self.reduced.widths]
        number = len(self._cover)
        self._add_columns(np.array(self._cover), list(range(number)), list(range(number)), [1.0] * number)

    def _add_columns(
        self, costs: npt.NDArray[np.float64], starts: list[int], rows: list[int], values: list[float]
    ) -> None:
        number = len(costs)
        self._highs.addCols(
            number,
            costs,
            np.zeros(number),
            np.full(number, highspy.kHighsInf),
            len(rows),
            np.array(starts, dtype=np.int32),
            np.array(rows, dtype=np.int32),
            np.array(values),
        )
