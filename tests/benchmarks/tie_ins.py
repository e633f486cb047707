"""Print what a full tie-in takes, from the request to the answer with every wrap, and 1,000 of them recomputed.

Run: python -m tests.benchmarks.tie_ins [tie-ins, 1000]
Bars: 5 ms of processor for one (checks, make-up, cuts, both wraps), 10 s by the clock for 1,000. The bare formulas in
the same run: both cut lengths, the closing measure and the ordinates of both wraps, nothing parsed, checked or said.
"""

import random
import sys
from math import cos, pi, radians, sin, sqrt, tan
from statistics import median
from time import perf_counter, process_time

from geometry.worked import work

POINTS = 256


def requests(count: int, seed: int = 20) -> list[dict]:
    """Return tie-ins as the field sends them: one by one a trimmed elbow with a saddle at its foot, and a miter."""
    pick = random.Random(seed)
    asked = []
    for number in range(count):
        a, b, included = pick.randint(28, 60), pick.randint(28, 60), pick.uniform(110, 160)
        closing = sqrt(a * a + b * b - 2 * a * b * cos(radians(included)))
        miter = number % 2 == 1
        main = {"nps": "24", "schedule": "STD", "included_angle": 60}
        on_main = {"prep": "saddle", "measured_to": "saddle_wall", "on_main": main}
        asked.append(
            {
                "pipe": {"nps": "6", "schedule": "40"},
                "readings": {
                    "leg_a": f"{a}-1/16",
                    "leg_b": f"{b}",
                    "included_angle": round(included, 1),
                    "burn": "4",
                    "set_point": "4",
                    "closing": f'{closing:.3f}"',
                },
                "bend": {"kind": "miter", "welds": 1} if miter else {"kind": "trimmed_elbow", "radius": "long"},
                "ends": {
                    "a": {"prep": "beveled", "measured_to": "pipe_end"} if miter else on_main,
                    "b": {"prep": "grooved", "measured_to": "pipe_end"},
                },
                "root_gap": "3/32",
                "wraps": {"lines": 16, "points": POINTS},
            }
        )
    return asked


def bare(a: float, b: float, included: float) -> list[float]:
    """Return both cut lengths, C and two wraps by the formulas alone."""
    take_off = 228.6 * tan(radians(180 - included) / 2)
    out = [a - take_off - 2.38125, b - take_off - 2.38125, sqrt(a * a + b * b - 2 * a * b * cos(radians(included)))]
    for tilt in (radians(60.0), radians(90 - (180 - included) / 2)):
        for k in range(POINTS):
            th = 2 * pi * k / POINTS
            out.append((sqrt(304.8**2 - (84.14 * sin(th)) ** 2) - 84.14 * cos(th) * cos(tilt)) / sin(tilt))
    return out


def main(count: int) -> None:
    """Print the table."""
    times: dict[str, list[float]] = {"trimmed elbow, saddle": [], "miter": [], "bare formulas": []}
    asked = requests(count)
    work(asked[0])
    began = perf_counter()
    for number, one in enumerate(asked):
        start = process_time()
        worked = work(one)
        times["miter" if number % 2 else "trimmed elbow, saddle"].append(process_time() - start)
        if not worked.built or len(worked.values["wraps"]) < 2:
            raise SystemExit(f"tie-in {number} was not built with both wraps: {worked.values['findings']}")
    whole = perf_counter() - began
    for number in range(count):
        start = process_time()
        bare(1000.0 + number, 900.0, 140.0)
        times["bare formulas"].append(process_time() - start)
    floor = median(times["bare formulas"])
    for name, taken in times.items():
        print(f"{name:24s} {1e3 * median(taken):8.3f} ms {median(taken) / floor:8.1f} x bare")
    print(f"{count} recomputed       {whole:8.2f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
