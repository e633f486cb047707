"""Print, for each tenth of stated chance, how many of the simulated spools fitted.

Run: python -m tests.benchmarks.fit_calibration [builds per tenth, 2000]
"""

import sys
from time import process_time

from tests.geometry.simulated_fits import calibration


def main():
    """Print stated against true share, tenth by tenth."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    started = process_time()
    worst = 0.0
    for stated, true in calibration(count, 20261125):
        worst = max(worst, abs(stated - true))
        print(f"stated {stated:6.3f}   fitted {true:6.3f}   difference {true - stated:+.3f}")
    print(f"{count} builds in each tenth, worst difference {worst:.3f}, {process_time() - started:.0f} s of one core")


if __name__ == "__main__":
    main()
