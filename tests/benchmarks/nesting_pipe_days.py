"""Pipe days: proof, scrap and time against first-fit decreasing, and the growth from 100 to 10,000 pieces.

python -m tests.benchmarks.nesting_pipe_days [--days 5] [--seconds 10] [--big]
"""

from __future__ import annotations

import argparse
import time
from typing import Any

from cutlists.nesting.first_fit import decreasing, first_fit, preferences
from cutlists.nesting.problem import Problem
from cutlists.nesting.reduced import reduce
from cutlists.nesting.solve import solve
from cutlists.nesting.verify import verify
from tests.benchmarks.nesting_families import FOOT, pipe_day

HEAD = (
    f"{'day':34s} {'bound ft':>9s} {'plan ft':>9s} {'proven':>6s} {'scrap in':>8s} {'% pieces':>8s} {'drops':>5s}"
    f" {'FFD ft':>9s} {'FFD scrap':>9s}  first plan s   wall s    cpu s"
)


def line(name: str, problem: Problem, per_inch: int, seconds: float) -> None:
    """Solve one day and print what came of it."""
    plain_ft, plain_scrap = _first_fit(problem, per_inch)
    first: list[float] = []
    began, cpu = time.monotonic(), time.process_time()
    plan = solve(problem, seconds=seconds, progress=lambda _used, _bound: first.append(time.monotonic() - began))
    wall, cpu = time.monotonic() - began, time.process_time() - cpu
    trouble = verify(problem, plan)
    pieces = sum(demand.length * demand.count for demand in problem.demand)
    foot = per_inch * FOOT
    drops = sum(bar.times for bar in plan.bars if bar.drop >= problem.keep_from)
    print(
        f"{name:34s} {plan.lower_bound / foot:9.0f} {plan.stock_length_used / foot:9.0f} {plan.proven!s:>6s}"
        f" {plan.scrap / per_inch:8.2f} {100 * plan.scrap / pieces:8.4f} {drops:5d} {plain_ft:9.0f} {plain_scrap:9.0f}"
        f" {(first or [wall])[0]:13.2f} {wall:8.2f} {cpu:8.2f} {trouble or ''}",
        flush=True,
    )


def _first_fit(problem: Problem, per_inch: int) -> tuple[float, float]:
    """New stock in feet and scrap in inches of first-fit decreasing, drops first, then the longest bars."""
    reduced = reduce(problem)
    layout = first_fit(reduced, decreasing(reduced), next(preferences(reduced)))
    if layout is None:
        return float("nan"), float("nan")
    scrap = 0
    for (kind, counts), times in layout.items():
        drop = reduced.drop(kind, reduced.filled(counts))
        scrap += drop * times if drop < problem.keep_from else 0
    return reduced.levels(layout)[0] / per_inch / FOOT, scrap / per_inch


def main() -> None:
    """Days of 700 pieces in two units, days with long pieces, then the growth."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--days", type=int, default=5)
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--big", action="store_true", help="also 10,000 pieces in 60 s")
    chosen = options.parse_args()
    print(HEAD)
    kinds: list[tuple[str, dict[str, Any]]] = [
        ("700, 1/16 in", {}),
        ("700, 1/64 in", {"per_inch": 64}),
        ("700, no doubles", {"doubles": False}),
        ("700, bars measured to 1/16 in", {"measured_per_inch": 16}),
        ("700 of 30 to 120 in", {"shortest_in": 30, "longest_in": 120}),
        ("60 of 70 to 130 in, 10 drops", {"pieces": 60, "shortest_in": 70, "longest_in": 130, "drops": 10}),
    ]
    for name, given in kinds:
        for day in range(chosen.days):
            line(f"{name}, day {day}", pipe_day(day, **given), given.get("per_inch", 16), chosen.seconds)
    for pieces, seconds in ((10, 10.0), (100, 10.0), (1000, 10.0), (3000, 30.0), *([(10_000, 60.0)] * chosen.big)):
        line(f"growth: {pieces} pieces", pipe_day(1, pieces=pieces), 16, seconds)


if __name__ == "__main__":
    main()
