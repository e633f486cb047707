"""Prints what a wrap costs against the bare formula's loop, and what both wraps of a tie-in cost.

Run: python -m tests.benchmarks.wraps
Bar: a wrap of 256 points at most 3 times the bare loop over the same points.
"""

from math import cos, pi, radians, sin, sqrt
from statistics import median
from time import perf_counter

from geometry.wraps import Layout, Saddle, hole_layout, miter_end_wrap, saddle_wrap

SADDLE = Saddle(
    main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3, branch_wall_mm=6.02, included_deg=45.0, edge="outside"
)
LAYOUT = Layout(lines=16, points=256)


def bare_loop() -> list[tuple[float, float]]:
    """Return the 256 points of the cope by the formula alone."""
    b, r, large, girth = radians(45.0), 57.15, 161.925, pi * 114.3
    points = []
    for k in range(256):
        th = 2 * pi * k / 256
        s = (sqrt(large * large - (r * sin(th)) ** 2) - r * cos(th) * cos(b)) / sin(b)
        points.append((girth * k / 256, s))
    least = min(s for _, s in points)
    return [(x, s - least) for x, s in points]


def bare_loop_over_the_wall() -> list[tuple[float, float]]:
    """Return the cope for a torch held square by the formula alone: the larger of the wall's two edges."""
    b, large, girth = radians(45.0), 161.925, pi * 114.3
    points = []
    for k in range(256):
        th = 2 * pi * k / 256
        s = max((sqrt(large * large - (r * sin(th)) ** 2) - r * cos(th) * cos(b)) / sin(b) for r in (57.15, 51.13))
        points.append((girth * k / 256, s))
    least = min(s for _, s in points)
    return [(x, s - least) for x, s in points]


def seconds(function, *args) -> float:
    """Return how long one call takes, the median over short slices."""
    times = []
    for _ in range(200):
        start = perf_counter()
        function(*args)
        times.append(perf_counter() - start)
    return median(times)


def main() -> None:
    """Interleave the bare loop with each wrap and print the ratios."""
    square = Saddle(main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3, branch_wall_mm=6.02, included_deg=45.0)
    rows = {
        "saddle, one edge": (bare_loop, saddle_wrap, SADDLE, LAYOUT),
        "saddle, torch square": (bare_loop_over_the_wall, saddle_wrap, square, LAYOUT),
        "hole": (bare_loop, hole_layout, SADDLE, LAYOUT),
        "miter end": (bare_loop, lambda: miter_end_wrap(od_mm=114.3, wall_mm=6.02, cut_deg=22.5, layout=LAYOUT)),
    }
    for name, (floor, function, *args) in rows.items():
        ratios, times = [], []
        for _ in range(7):
            bare, ours = seconds(floor), seconds(function, *args)
            ratios.append(ours / bare)
            times.append(ours)
        print(f"{name:22s} {median(times) * 1e6:7.0f} us   {median(ratios):.2f} times the bare loop")


if __name__ == "__main__":
    main()
