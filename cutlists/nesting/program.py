"""An integer program over given patterns in HiGHS: how many bars are cut to each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from cutlists.nesting.master import SolverTrouble, quiet_highs
from cutlists.nesting.reduced import Layout, Pattern, Reduced

INTEGER = int(highspy.HighsVarType.kInteger)
UNLIMITED = highspy.kHighsInf


@dataclass(frozen=True, slots=True)
class Choice:
    """A layout, or none; `closed` says that the program was solved to its end."""

    layout: Layout | None
    closed: bool


class Program:
    """One integer program: a column a pattern, a row a width, a row a kind of which only so many are there."""

    def __init__(self, reduced: Reduced, patterns: Sequence[Pattern], costs: Sequence[int]) -> None:
        self.reduced = reduced
        self.patterns = patterns
        self.highs = quiet_highs()
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.setOptionValue("mip_abs_gap", 0.999)
        number = len(patterns)
        places = np.arange(number, dtype=np.int32)
        upper = np.array([self.most(pattern) for pattern in patterns], dtype=np.float64)
        self.highs.addVars(number, np.zeros(number), upper)
        self.highs.changeColsIntegrality(number, places, np.full(number, INTEGER, dtype=np.uint8))
        self.highs.changeColsCost(number, places, np.array(costs, dtype=np.float64))

    def rows_for_demand(self, *, exactly: bool) -> None:
        """A row a width, and a row a kind of which only so many are there."""
        reduced = self.reduced
        rows: list[list[tuple[int, int]]] = [[] for _ in reduced.widths]
        of_kind: dict[int, list[tuple[int, int]]] = {}
        for column, (kind, counts) in enumerate(self.patterns):
            of_kind.setdefault(kind, []).append((column, 1))
            for item, count in counts:
                rows[item].append((column, count))
        for entries, wanted in zip(rows, reduced.demand, strict=True):
            if wanted:
                self.row(wanted, wanted if exactly else UNLIMITED, entries)
        for kind, entries in sorted(of_kind.items()):
            if reduced.kinds[kind].limited:
                self.row(-UNLIMITED, reduced.kinds[kind].count, entries)

    def row(self, lower: float, upper: float, entries: Iterable[tuple[int, int]]) -> None:
        """Add one row."""
        pairs = [(column, count) for column, count in entries if count]
        columns = np.array([column for column, _ in pairs], dtype=np.int32)
        values = np.array([count for _, count in pairs], dtype=np.float64)
        self.highs.addRow(float(lower), float(upper), len(pairs), columns, values)

    def marks(self, costs: Sequence[int]) -> list[int]:
        """A yes-or-no column for each cost; their column numbers."""
        first, number = self.highs.getNumCol(), len(costs)
        places = np.arange(first, first + number, dtype=np.int32)
        self.highs.addVars(number, np.zeros(number), np.ones(number))
        self.highs.changeColsIntegrality(number, places, np.full(number, INTEGER, dtype=np.uint8))
        self.highs.changeColsCost(number, places, np.array(costs, dtype=np.float64))
        return [int(place) for place in places]

    def start_from(self, known: Layout) -> None:
        """Give HiGHS a plan to begin with, if all its patterns are here."""
        places = {pattern: column for column, pattern in enumerate(self.patterns)}
        if all(pattern in places for pattern in known):
            columns = np.array([places[pattern] for pattern in known], dtype=np.int32)
            amounts = np.array(list(known.values()), dtype=np.float64)
            self.highs.setSolution(len(columns), columns, amounts)

    def solve(self, seconds: float, stop: Callable[[], bool]) -> Choice:
        """Run HiGHS; a solution is read back in whole numbers and counted again."""
        highs = self.highs
        highs.setOptionValue("time_limit", max(0.01, seconds))
        _stop_when(highs, stop)
        if highs.run() == highspy.HighsStatus.kError:
            raise SolverTrouble(f"the integer program stopped with {highs.getModelStatus()}")
        status = highs.getModelStatus()
        closed = status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
        if highs.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return Choice(None, closed and status == highspy.HighsModelStatus.kInfeasible)
        amounts = [round(amount) for amount in highs.getSolution().col_value]
        layout = {pattern: amount for pattern, amount in zip(self.patterns, amounts, strict=False) if amount > 0}
        return Choice(layout, closed) if self._enough(layout) else Choice(None, closed=False)

    def most(self, pattern: Pattern) -> int:
        """How many bars could be cut to a pattern."""
        kind, counts = pattern
        demand = self.reduced.demand
        return min(self.reduced.kinds[kind].count, *(-(-demand[item] // count) for item, count in counts))

    def _enough(self, layout: Layout) -> bool:
        cut = [0] * len(self.reduced.widths)
        for (_, counts), times in layout.items():
            for item, count in counts:
                cut[item] += count * times
        return all(there >= wanted for there, wanted in zip(cut, self.reduced.demand, strict=True))


def _stop_when(highs: highspy.Highs, stop: Callable[[], bool]) -> None:
    """Let HiGHS ask now and then whether someone cancelled."""

    def ask(event: object) -> None:
        if stop():
            event.interrupt()  # type: ignore[attr-defined]

    highs.cbMipInterrupt.subscribe(ask)
