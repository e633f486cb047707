"""The same problems, the same limit: this package and OR-Tools CP-SAT's direct model side by side.

    python -m tests.benchmarks.nesting_against_cpsat [--seconds 10] [--each 3]

CP-SAT gets bars by widths, bars of a kind in order of their fill, and first-fit decreasing as a hint. ortools is needed
for this comparison only: pip install ortools. It brings a HiGHS of its own that can't be loaded beside highspy, so our
side runs as a program of its own, through its JSON.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from collections.abc import Iterator
from typing import Any

from cutlists.nesting.first_fit import decreasing, first_fit, preferences
from cutlists.nesting.problem import Problem
from cutlists.nesting.reduced import Layout, Reduced, reduce
from tests.benchmarks.nesting_families import FAMILIES, pipe_day

try:
    from ortools.sat.python import cp_model
except ImportError:
    sys.exit("this comparison needs OR-Tools: pip install ortools")


def direct(problem: Problem, seconds: float, workers: int) -> tuple[int | None, int, bool]:
    """CP-SAT's plan (new stock, or none), its bound, and whether it says that both meet."""
    reduced = reduce(problem)
    hint = first_fit(reduced, decreasing(reduced), next(preferences(reduced)))
    model = cp_model.CpModel()
    opened, cuts, kinds = _bars(model, reduced, hint)
    for item, wanted in enumerate(reduced.demand):
        model.Add(sum(row[item] for row in cuts) == wanted)
    model.Minimize(sum(reduced.kinds[kind].cost * bar for kind, bar in zip(kinds, opened, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.Solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    used = int(solver.ObjectiveValue()) if found else None
    return used, int(solver.BestObjectiveBound()), status == cp_model.OPTIMAL


def _bars(model: Any, reduced: Reduced, hint: Layout | None) -> tuple[list[Any], list[list[Any]], list[int]]:
    """One yes-or-no a bar, one count a bar and width; bars of one kind are opened in their order, fullest first."""
    opened: list[Any] = []
    cuts: list[list[Any]] = []
    kinds: list[int] = []
    for kind, bars in enumerate(_bars_of_kinds(reduced, hint)):
        fill_before = None
        for bar, given in enumerate(bars):
            name = f"{kind}-{bar}"
            open_bar = model.NewBoolVar(f"open {name}")
            capacity = reduced.kinds[kind].capacity
            row = [
                model.NewIntVar(0, min(wanted, capacity // width), f"cut {name}-{item}")
                for item, (width, wanted) in enumerate(zip(reduced.widths, reduced.demand, strict=True))
            ]
            fill = sum(width * count for width, count in zip(reduced.widths, row, strict=True))
            model.Add(fill <= capacity * open_bar)
            if fill_before is not None:
                model.Add(fill_before >= fill)
            fill_before = fill
            model.AddHint(open_bar, bool(given))
            for item, count in enumerate(row):
                model.AddHint(count, given.get(item, 0))
            opened.append(open_bar)
            cuts.append(row)
            kinds.append(kind)
    return opened, cuts, kinds


def _bars_of_kinds(reduced: Reduced, hint: Layout | None) -> list[list[dict[int, int]]]:
    """For each kind as many bars as could be needed, the hint's cuts in the first of them."""
    bars: list[list[dict[int, int]]] = [[] for _ in reduced.kinds]
    for (kind, counts), times in (hint or {}).items():
        bars[kind] += [dict(counts)] * times
    for kind, own in enumerate(bars):
        own.sort(key=lambda cut: -reduced.filled(tuple(cut.items())))
        if len(bars) == 1 and own:
            continue  # of one length no plan needs more bars than the hint has
        most = reduced.kinds[kind].count
        enough = most if reduced.kinds[kind].limited else -(-2 * reduced.total // reduced.kinds[kind].capacity)
        own.extend([{}] * (min(most, enough) - len(own)))
    return bars


def ours(problem: Problem, seconds: float) -> dict[str, Any]:
    """The plan of python -m cutlists.nesting."""
    stock = [{"id": s.id, "length": s.length, "count": s.count, "cost": s.price} for s in problem.stock]
    demand = [{"id": d.id, "length": d.length, "count": d.count} for d in problem.demand]
    given = {"kerf": problem.kerf, "trim": problem.trim, "keep_from": problem.keep_from, "seconds": seconds}
    text = json.dumps({**given, "stock": stock, "demand": demand})
    command = [sys.executable, "-m", "cutlists.nesting"]
    done = subprocess.run(command, input=text, capture_output=True, text=True, check=True)
    plan: dict[str, Any] = json.loads(done.stdout)
    return plan


def cases(each: int) -> Iterator[tuple[str, Problem]]:
    """Problems of our own generators and two pipe days."""
    for family, make in FAMILIES.items():
        for seed in range(each):
            yield f"{family} {seed}", make(seed)
    yield "pipe day of 60", pipe_day(0, pieces=60, drops=10)
    yield "pipe day of 200", pipe_day(0, pieces=200)


def main() -> None:
    """One line a problem, and the count of proofs at the end."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--each", type=int, default=3)
    options.add_argument("--workers", type=int, default=2)
    chosen = options.parse_args()
    mine = theirs = number = 0
    print(f"{'problem':32s} {'ours':>10s} {'bound':>10s} {'s':>7s}   {'CP-SAT':>10s} {'bound':>10s} {'s':>7s}")
    for name, problem in cases(chosen.each):
        plan = ours(problem, chosen.seconds)
        began = time.monotonic()
        used, bound, proven = direct(problem, chosen.seconds, chosen.workers)
        took = time.monotonic() - began
        number, mine, theirs = number + 1, mine + plan["proven"], theirs + proven
        print(
            f"{name:32s} {plan['stock_length_used']:10d} {plan['lower_bound']:10d} {plan['seconds']:7.2f}"
            f"   {'no plan' if used is None else used:>10} {bound:10d} {took:7.2f}",
            flush=True,
        )
    print(f"proven in {chosen.seconds:g} s: ours {mine}, CP-SAT {theirs}, of {number}")


if __name__ == "__main__":
    main()
