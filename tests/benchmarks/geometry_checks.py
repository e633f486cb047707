"""Print what a check, a blunder test, a fit and a two-bend choice take, beside the bare closing formula.

Run: python -m tests.benchmarks.geometry_checks
Processor time of one core, medians; the bars are 20 ms, 20 ms and 100 ms for blunders, fit and two bends.
"""

import random
import subprocess
import sys
from math import cos, radians, sin, sqrt
from statistics import median
from time import process_time

from geometry.allowances import grooved
from geometry.blunders import suspects
from geometry.centerline import CenterlineRequest, lay_out
from geometry.checks import CheckInput, check_reading
from geometry.fit import FitInput, fit_probability, fit_report
from geometry.survey import axis_from_shots, tie_in_from_axes
from geometry.tables import pipe
from geometry.two_bend import Port
from geometry.two_bend_choice import TwoBendLimits, free_two_bend
from tests.geometry.simulated_tie_ins import tie_in


def bare_closing(a, b, included_deg):
    """Return C and its three slopes, nothing else."""
    g = radians(included_deg)
    c = sqrt((a - b) ** 2 + 4 * a * b * sin(g / 2) ** 2)
    return c, (a - b * cos(g)) / c, (b - a * cos(g)) / c, a * b * sin(g) / c


def milliseconds(work, rounds, repeats):
    """Return the median time of one call."""
    taken = []
    for _ in range(rounds):
        started = process_time()
        for _ in range(repeats):
            work()
        taken.append((process_time() - started) / repeats * 1e3)
    return median(taken)


def two_ports(rng):
    """Return the ports of a two-bend spool of random turns and twist, roomy enough for its fittings."""
    turns = rng.uniform(10, 80), rng.uniform(10, 80)
    legs = tuple(rng.uniform(500, 1200) for _ in range(3))
    line = lay_out(CenterlineRequest(legs, turns, (rng.uniform(-170, 170),)))
    out = line.frames[-1].along
    return Port(line.points[0], line.frames[0].along), Port(line.points[-1], (-out[0], -out[1], -out[2]))


def import_milliseconds(module):
    """Return what importing a module takes in a new interpreter, less the interpreter's own start."""
    program = f"import time; t = time.process_time(); import {module}; print((time.process_time() - t) * 1e3)"
    runs = [subprocess.run([sys.executable, "-c", program], capture_output=True, check=True) for _ in range(5)]
    return median(float(run.stdout) for run in runs)


def main():
    """Print one line for each deed: milliseconds, and how many bare closing formulas that is."""
    rng = random.Random(20261125)
    good, _ = tie_in("none", "C", rng)
    wrong, _ = tie_in("burn_left_in_a", "CDE", rng)
    joint = grooved(pipe("4", "40"), coupling="flexible")
    fit = FitInput(measured=good, take_off_mm=63.0, allowance=joint)
    ports = [two_ports(rng) for _ in range(9)]
    limits = TwoBendLimits(radius_mm=152.4, least_outer_mm=100.0)
    axis_a = axis_from_shots([(-600.0, 0.0, 0.0), (0.0, 0.0, 0.0)])
    axis_b = axis_from_shots([(1500.0, 1400.0, 0.0), (1200.0, 800.0, 1.0)])
    bare = milliseconds(lambda: bare_closing(914.4, 609.6, 135.0), 9, 2000)
    deeds = (
        ("bare closing formula with slopes", bare),
        ("check without a check measure", milliseconds(lambda: check_reading(plain(good)), 9, 100)),
        ("check with C that closes", milliseconds(lambda: check_reading(good), 9, 100)),
        ("check with C, D, E and suspects", milliseconds(lambda: check_reading(wrong), 9, 10)),
        ("blunder test alone", milliseconds(lambda: suspects(wrong), 9, 10)),
        ("chance of fit", milliseconds(lambda: fit_probability(fit), 9, 5)),
        ("fit with the best repeat", milliseconds(lambda: fit_report(fit), 9, 5)),
        ("survey of two axes", milliseconds(lambda: tie_in_from_axes(axis_a, axis_b, joints_take_mm=3.0), 9, 100)),
        ("free two bends", median(milliseconds(lambda p=p: free_two_bend(*p, limits), 1, 1) for p in ports)),
    )
    for name, taken in deeds:
        print(f"{name:36} {taken:9.4f} ms {taken / bare:10.0f} x bare")
    for module in ("geometry.checks", "geometry.fit", "geometry.survey"):
        print(f"import {module:29} {import_milliseconds(module):9.1f} ms")


def plain(measured):
    """Return the reading without any check measure."""
    return CheckInput(
        leg_a_mm=measured.leg_a_mm,
        leg_b_mm=measured.leg_b_mm,
        included_deg=measured.included_deg,
        burn_a_mm=measured.burn_a_mm,
        burn_b_mm=measured.burn_b_mm,
    )


if __name__ == "__main__":
    main()
