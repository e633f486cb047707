"""How long a walk of 400 tie-ins takes to plan, how that grows, and what it saves beside the order of the marks.

python -m tests.benchmarks.walk
"""

import random
from time import process_time

from spools.walks.plan import Stop, plan_walk

FOOT_MM = 304.8
LENGTH_MM = 4080 * FOOT_MM
SHAFTS_MM = (0.0, LENGTH_MM / 2, LENGTH_MM)


def stops(count: int, *, shuffled: float) -> list[Stop]:
    """Tie-ins along a gallery; a share of the marks was given out of order, as drains are added to a job."""
    rng = random.Random(count)
    stations = sorted(rng.uniform(0, LENGTH_MM) for _ in range(count))
    marks = list(range(1, count + 1))
    moved = rng.sample(range(count), int(count * shuffled))
    for one, other in zip(moved[::2], moved[1::2], strict=False):
        marks[one], marks[other] = marks[other], marks[one]
    return [Stop(n, str(mark), station) for n, (mark, station) in enumerate(zip(marks, stations, strict=True))]


def main() -> None:
    """Print one line for each size."""
    for count in (100, 200, 400, 800):
        row = stops(count, shuffled=0.2)
        began = process_time()
        plan = plan_walk(row, shafts_mm=SHAFTS_MM, in_a_shift=20)
        took = process_time() - began
        feet, by_mark = plan.walk_mm / FOOT_MM, plan.mark_order_mm / FOOT_MM
        print(
            f"{count} tie-ins, {len(plan.shifts)} shifts: {took:.2f} s, {feet:,.0f} ft, in mark order {by_mark:,.0f} ft"
        )


if __name__ == "__main__":
    main()
