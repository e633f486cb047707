"""Print the stated chance of fit beside a million non-linear draws, for random tie-ins and every kind of joint.

Run: python -m tests.benchmarks.fit_monte_carlo [tie-ins, 24]
"""

import sys
from dataclasses import replace

import numpy as np

from geometry.allowances import flanged, grooved, welded
from geometry.checks import CheckInput, MeasuringSigmas
from geometry.fit import FitInput, fit_report
from geometry.tables import pipe
from tests.geometry.simulated_builds import build, readings_errors

IN = 25.4
DRAWS = 1_000_000


def random_tie_in(rng, place):
    """Return a tie-in of random size, joint and protractor."""
    nps = str(rng.choice(["2", "4", "6", "8"]))
    row = pipe(nps, "40")
    joint = (welded(row), welded(row, field_trim_mm=25.0), grooved(row, coupling="flexible"), flanged(row))[place % 4]
    if place % 3 == 0:
        joint = replace(joint, offset_mm=joint.offset_mm * 3, short_mm=joint.short_mm * 2, long_mm=joint.long_mm * 3)
    included = rng.uniform(60, 165)
    measured = CheckInput(
        leg_a_mm=rng.uniform(14, 60) * IN,
        leg_b_mm=rng.uniform(14, 60) * IN,
        included_deg=included,
        sigmas=MeasuringSigmas(protractor_deg=float(rng.choice([0.1, 0.25, 0.5]))),
    )
    take_off = 1.5 * float(nps) * IN * np.tan(np.radians(180 - included) / 2)
    return FitInput(measured=measured, take_off_mm=take_off, allowance=joint)


def main():
    """Print one line for each tie-in and the worst difference."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 24
    rng = np.random.default_rng(4)
    worst = worst_sigma = 0.0
    for place in range(count):
        asked = random_tie_in(rng, place)
        report = fit_report(asked)
        misses = build(asked, *readings_errors(asked.measured, asked.build.jig_play_mm, DRAWS, rng), rng)
        share = misses.fits(asked.allowance).mean()
        sigmas = (
            report.sigma_axial_mm / misses.axial.std(),
            report.sigma_lateral_mm / misses.lateral.std(),
            report.sigma_vertical_mm / misses.vertical.std(),
        )
        worst = max(worst, abs(share - report.probability))
        worst_sigma = max(worst_sigma, *(abs(ratio - 1) for ratio in sigmas))
        print(f"{asked.allowance.joint:26} stated {report.probability:.4f}  drawn {share:.4f}")
    print(f"worst difference {worst:.4f} of chance, {worst_sigma:.4f} of a sigma, {DRAWS:,} draws each")


if __name__ == "__main__":
    main()
