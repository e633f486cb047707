"""Percentiles that keep the tail: of finished work alone, or with open work counted as "not yet"."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

TINY = 1e-12  # what the product of a few hundred fractions may be off


@dataclass(frozen=True, slots=True)
class Duration:
    """How long one piece of work took, or has taken so far, in the unit of the whole set: hours or days."""

    amount: float
    finished: bool


@dataclass(frozen=True, slots=True)
class CurveStep:
    """After this long: how many were still in work, how many finished then, and the part left open after."""

    amount: float
    at_risk: int
    finished: int
    open_part: float


@dataclass(frozen=True, slots=True)
class OpenCurve:
    """The part of the work that is still open after so long (Kaplan-Meier)."""

    steps: tuple[CurveStep, ...]
    n_finished: int
    n_open: int

    @property
    def n(self) -> int:
        """How much work is counted, finished and open."""
        return self.n_finished + self.n_open

    def open_part_at(self, amount: float) -> float:
        """Return the part still open once that long has passed."""
        part = 1.0
        for step in self.steps:
            if step.amount > amount:
                break
            part = step.open_part
        return part

    def percentile(self, percent: int) -> float | None:
        """Return how long it takes until that percent is finished; nothing while too much is open to tell."""
        for step in self.steps:
            if step.open_part <= 1 - percent / 100 + TINY:
                return step.amount
        return None


def kaplan_meier(durations: Iterable[Duration]) -> OpenCurve:
    """Return the curve of open work, open work entering as censored at its present age.

    Work that is open after exactly as long as other work took counts as still in work at that moment.

    Source: E. L. Kaplan, P. Meier, Nonparametric estimation from incomplete observations, J. Am. Stat. Assoc. 53
    (1958) 457-481.

    >>> curve = kaplan_meier([Duration(2, True), Duration(3, False), Duration(5, True)])
    >>> [(step.amount, round(step.open_part, 3)) for step in curve.steps]
    [(2, 0.667), (5, 0.0)]
    """
    in_order = sorted(durations, key=lambda duration: duration.amount)
    steps: list[CurveStep] = []
    at_risk, part = len(in_order), 1.0
    for amount, group in groupby(in_order, key=lambda duration: duration.amount):
        ended = list(group)
        finished = sum(duration.finished for duration in ended)
        if finished:
            part *= 1 - finished / at_risk
            steps.append(CurveStep(amount, at_risk, finished, part))
        at_risk -= len(ended)
    n_finished = sum(duration.finished for duration in in_order)
    return OpenCurve(tuple(steps), n_finished, len(in_order) - n_finished)


def percentile(values: Sequence[float], percent: int) -> float | None:
    """Return the smallest value that at least that percent of the values do not exceed; nothing of no values.

    This equals the percentile of ``kaplan_meier`` when nothing is open, so a page never shows two medians.

    >>> percentile([5, 1, 3, 2], 50)
    2
    """
    if not 1 <= percent <= 100:
        raise ValueError(f"A percentile is a whole number from 1 to 100, not {percent}.")
    if not values:
        return None
    rank = -(-percent * len(values) // 100)
    return sorted(values)[rank - 1]


@dataclass(frozen=True, slots=True)
class Spread:
    """How a number of durations lie: count, median, 85th and 95th percentile, and their sum."""

    n: int
    p50: float | None
    p85: float | None
    p95: float | None
    total: float


def spread(values: Sequence[float]) -> Spread:
    """Return the spread of some hours."""
    return Spread(len(values), percentile(values, 50), percentile(values, 85), percentile(values, 95), sum(values))
