"""Level 1, least new stock: bound and plan brought together by steps, each dearer than the one before.

What each step's word rests on: every plan is counted again in whole numbers (verify.py), and column generation's bound
comes from integer prices and one exact table, so no float stands in either. Only where the bound itself must be raised
(no plan of this total among all patterns that one could hold) does the proof rest on HiGHS: on its finding an equality
program of whole coefficients infeasible, for which it gives no certificate.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import islice
from math import ceil
from random import Random

from cutlists.nesting.choose import choose_at_most, choose_cover, choose_total
from cutlists.nesting.columns import Columns
from cutlists.nesting.critical import TooMany, critical_patterns
from cutlists.nesting.dive import Dive
from cutlists.nesting.record import Record
from cutlists.nesting.reduced import Pattern, Reduced
from cutlists.nesting.watch import Watch

RETURNS = 60
"""Steps that one dive may take back."""
MOST_CRITICAL = 60_000
RESTARTS = 40
"""Rounds of restricted program and dives with noise, where nothing else closed the gap."""


class LeastStock:
    """The search for a plan whose new stock meets the bound."""

    def __init__(self, reduced: Reduced, record: Record, watch: Watch, seeds: Sequence[Pattern] = ()) -> None:
        self.reduced = reduced
        self.record = record
        self.watch = watch
        self.columns = Columns(reduced, watch)
        self.columns.add([*record.layout, *seeds])

    @property
    def patterns(self) -> list[Pattern]:
        """Every pattern made so far."""
        return self.columns.master.patterns

    def run(self) -> None:
        """Until the plan is proven or every step is done; raises Stopped when time is up."""
        record = self.record
        self.approach()
        while not record.proven and self._exact_step():
            pass
        for round_number in range(RESTARTS):
            if record.proven:
                return
            self._restart(round_number)

    def approach(self) -> None:
        """Bound by column generation and plans by dives, without the dearer steps."""
        record = self.record
        self._raise_bound(closely=False)
        if not record.proven:
            self._dive(record.bound + 1)
        while not record.proven and self._dive(record.used):
            pass

    def _raise_bound(self, *, closely: bool) -> None:
        """Column generation; not closely: only until rounding up gives the same bound anyway."""
        record, columns, covering = self.record, self.columns, self.record.covering

        def enough(bound: Fraction, value: float) -> bool:
            reachable = covering.lift(int(value + 1 - 1e-6 * columns.dearest))
            return not closely and covering.lift(ceil(bound)) >= min(record.used, reachable)

        coarse = columns.step
        try:
            columns.generate(enough)
            if coarse > 1 and columns.can_be_exact:
                columns.use_grid(1)
                columns.generate(enough)
            elif coarse > 1:
                columns.bound_on_grid()
        finally:
            columns.use_grid(coarse)
            record.at_least(ceil(columns.bound))

    def _dive(self, below: int, returns: int = RETURNS) -> bool:
        return self.record.offer(Dive(self.columns, self.record.covering, below, returns).run())

    def _exact_step(self) -> bool:
        """Look through every pattern that a plan better than the best can hold; whether something was settled."""
        self._raise_bound(closely=True)
        record = self.record
        if record.proven:
            return False
        found = self._critical()
        if found is None:
            return False
        total, patterns = found
        single = total == record.bound
        seconds = self.watch.left if single else self.watch.left / 2
        choose = choose_total if single else choose_at_most
        choice = choose(self.reduced, patterns, total, seconds, self.watch.over)
        better = record.offer(choice.layout)
        if choice.closed:
            record.at_least(record.used if better else total + 1)
        self.watch.check()
        return better or choice.closed

    def _critical(self) -> tuple[int, list[Pattern]] | None:
        """The greatest total below the best plan's whose critical patterns are few enough, and these patterns."""
        columns, record = self.columns, self.record
        totals = list(islice(record.covering.totals(record.bound, record.used), 1000)) or [record.bound]
        while totals:
            total = totals[-1]
            try:
                most = MOST_CRITICAL if len(totals) == 1 else MOST_CRITICAL // 4
                return total, critical_patterns(self.reduced, columns.prices, total, self.watch, most)
            except TooMany:
                totals = totals[: len(totals) // 2]
        return None

    def _restart(self, number: int) -> None:
        """The best plan from all patterns made so far, then a dive from prices shaken a little."""
        record, columns = self.record, self.columns
        seconds = min(self.watch.left, 1.0 + number)
        choice = choose_cover(self.reduced, self.patterns, record.bound, seconds, self.watch.over)
        self.watch.check()
        if record.offer(choice.layout) and record.proven:
            return
        columns.shake(Random(number))  # noqa: S311  (seeded: the same problem must give the same plan)
        self._dive(record.used)
