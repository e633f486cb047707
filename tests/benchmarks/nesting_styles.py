"""Problems in the style of the published families, by our own seeded generators: proven, and how fast.

python -m tests.benchmarks.nesting_styles [--each 20] [--seconds 10]
"""

from __future__ import annotations

import argparse

from tests.benchmarks.nesting_families import FAMILIES
from tests.benchmarks.nesting_published import Published, Run, run, table

UNKNOWN = 10**9


def main() -> None:
    """Run so many of each family; the optimum is not known, so only plans and times are judged."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--each", type=int, default=20)
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--first", type=int, default=0)
    chosen = options.parse_args()
    runs: list[Run] = []
    for family, make in FAMILIES.items():
        for seed in range(chosen.first, chosen.first + chosen.each):
            runs.append(run(Published(f"{family} {seed}", family, make(seed), UNKNOWN), chosen.seconds))
            if not runs[-1].proven or runs[-1].trouble:
                print(f"{family} {seed}: used {runs[-1].used}, bound {runs[-1].bound} {runs[-1].trouble}")
    table(runs)


if __name__ == "__main__":
    main()
