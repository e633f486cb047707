"""Print what the closing check finds and names: simulated tie-ins of every kind, with C, D and E.

Run: python -m tests.benchmarks.blunder_table [tie-ins per kind, 2000] [--sixteenths] [--seed 20261125]

Bars: found 0.95 (burn left in B with C alone 0.85, legs swapped with C never, with C and E 0.72), false alarms and
named alone but wrong 0.02, the right name with C, D and E 0.93.
"""

import argparse
from time import process_time

from tests.geometry.simulated_tie_ins import KINDS, SETS, tally


def main():
    """Print the table: found / named alone and right / right among those named / named alone but wrong."""
    parser = argparse.ArgumentParser()
    parser.add_argument("count", nargs="?", type=int, default=2000)
    parser.add_argument("--sixteenths", action="store_true")
    parser.add_argument("--seed", type=int, default=20261125)
    asked = parser.parse_args()
    print(f"{asked.count} tie-ins of each kind, seed {asked.seed}; columns:")
    print("found, named alone and right, right among those named, named alone but wrong, how many named")
    started = process_time()
    for checks in SETS:
        print(f"\nwith {' + '.join(checks)}")
        for kind in KINDS:
            seen = tally(kind, checks, asked.count, asked.seed, sixteenths=asked.sixteenths)
            shares = f"{seen.found:6.3f} {seen.right:6.3f} {seen.among:6.3f} {seen.wrong:6.3f} {seen.named:5.1f}"
            print(f"  {kind:18} {shares}", flush=True)
    print(f"\n{process_time() - started:.0f} s of one core")


if __name__ == "__main__":
    main()
