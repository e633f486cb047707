"""Published cutting-stock instances: how many are proven, how fast, and whether any claim is false.

    python -m tests.benchmarks.nesting_published FOLDER [--seconds 10] [--only NAME]

FOLDER holds JSON lists of instances (name, family, items as [length, count], capacity or stock, best_known) and
optima.json for those without best_known. The instances are not part of this project; see their own licence.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any

from cutlists.nesting.problem import Demand, Problem, Stock
from cutlists.nesting.solve import solve
from cutlists.nesting.verify import verify


@dataclass(frozen=True)
class Published:
    """One instance with what is known of it."""

    name: str
    family: str
    problem: Problem
    best_known: int


@dataclass(frozen=True)
class Run:
    """What one run gave."""

    instance: Published
    used: int
    bound: int
    proven: bool
    seconds: float
    cpu: float
    trouble: str


def instances(folder: Path) -> Iterator[Published]:
    """Every instance of the folder, in the order of its files."""
    optima = json.loads((folder / "optima.json").read_text())["optima"] if (folder / "optima.json").exists() else {}
    for path in sorted(folder.glob("*.json")):
        rows = json.loads(path.read_text())
        if path.name != "optima.json" and isinstance(rows, list):
            yield from (_instance(row, optima) for row in rows)


def _instance(row: dict[str, Any], optima: dict[str, Any]) -> Published:
    demand = tuple(Demand(f"P{n}", length, count) for n, (length, count) in enumerate(row["items"]))
    stock = tuple(Stock(s["id"], s["length"], s["count"], s["cost"]) for s in row.get("stock", ()))
    stock = stock or (Stock("S", row["capacity"], None, 1),)
    best = row["best_known"] if "best_known" in row else optima[row["name"]]["best_known"]
    return Published(row["name"], row["family"], Problem(0, 0, 0, stock, demand), best)


def run(instance: Published, seconds: float) -> Run:
    """Solve one instance, check the plan, compare the claims with what is published."""
    began, cpu = time.monotonic(), time.process_time()
    plan = solve(instance.problem, seconds=seconds)
    cpu, took = time.process_time() - cpu, time.monotonic() - began
    trouble = verify(instance.problem, plan)
    if plan.proven and plan.stock_length_used > instance.best_known:
        trouble.append(f"FALSE PROVEN {plan.stock_length_used}, {instance.best_known} is known")
    if plan.lower_bound > instance.best_known:
        trouble.append(f"BOUND {plan.lower_bound} above {instance.best_known}")
    if took > seconds + 1:
        trouble.append(f"LATE {took:.1f} s")
    return Run(instance, plan.stock_length_used, plan.lower_bound, plan.proven, plan.seconds, cpu, "; ".join(trouble))


def table(runs: list[Run]) -> None:
    """One line a family, one for all."""
    print(
        f"{'family':24s} {'runs':>4s} {'proven':>6s} {'mean gap':>9s} {'worst':>7s}"
        "  solver s med / p95 / max   cpu s med / p95 / max"
    )
    families = list(dict.fromkeys(each.instance.family for each in runs))
    for family in [*families, "all"]:
        some = [each for each in runs if family in (each.instance.family, "all")]
        gaps = [100 * (each.used - each.bound) / each.used for each in some]
        walls, cpus = (sorted(getattr(each, name) for each in some) for name in ("seconds", "cpu"))
        proven = sum(each.proven for each in some)
        line = f"{family:24s} {len(some):4d} {proven:6d} {sum(gaps) / len(gaps):8.3f}% {max(gaps):6.2f}%"
        for times in (walls, cpus):
            line += f"  {median(times):7.3f} {times[int(0.95 * (len(times) - 1))]:7.3f} {times[-1]:7.2f}"
        print(line)
    print(f"claims that are false, plans that don't add up, late ends: {sum(bool(each.trouble) for each in runs)}")


def main() -> None:
    """Run them all and print the table; open and troubled ones are named."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folder", type=Path)
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--only", default="")
    chosen = options.parse_args()
    runs = []
    for instance in instances(chosen.folder):
        if chosen.only in instance.name:
            runs.append(run(instance, chosen.seconds))
            last = runs[-1]
            if not last.proven or last.trouble:
                print(
                    f"{instance.name}: used {last.used}, bound {last.bound}, known {instance.best_known} {last.trouble}"
                )
    table(runs)


if __name__ == "__main__":
    main()
