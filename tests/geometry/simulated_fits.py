"""Random tie-ins from the true pipe to the built spool, to see whether stated chances come true."""

from math import cos, radians, sqrt, tan

import numpy as np

from geometry.allowances import JointAllowance
from geometry.checks import CheckInput, MeasuringSigmas
from geometry.fit import FitInput, fit_probability
from tests.geometry.simulated_builds import build

IN = 25.4


def stated_and_true(rng):
    """Measure, state the chance, build: return the stated chance and whether the spool fitted."""
    a, b, included = rng.uniform(14, 60) * IN, rng.uniform(14, 60) * IN, rng.uniform(75, 165)
    sigmas = MeasuringSigmas(protractor_deg=float(rng.choice([0.1, 0.25, 0.5])))
    leg = sqrt(sigmas.tape_mm**2 + (IN / 32) ** 2)
    off = rng.normal(0, leg), rng.normal(0, leg), rng.normal(0, sigmas.protractor_deg)
    closing = sqrt(a * a + b * b - 2 * a * b * cos(radians(included))) + rng.normal(0, sigmas.closing_mm)
    measured = CheckInput(
        leg_a_mm=a + off[0],
        leg_b_mm=b + off[1],
        included_deg=min(included + off[2], 180.0),
        closing_mm=closing if rng.random() < 0.5 else None,
        sigmas=sigmas,
    )
    looseness = rng.uniform(0.5, 6.0)
    joint = JointAllowance(
        joint="simulated",
        short_mm=1.6 * looseness,
        long_mm=1.6 * looseness + rng.choice([0.0, 25.0]),
        offset_mm=1.6 * looseness * rng.uniform(0.5, 2.0),
        turn_deg=0.4 * looseness,
        source="drawn at random",
    )
    take_off = 152.4 * tan(radians(180 - included) / 2)
    request = FitInput(measured=measured, take_off_mm=min(take_off, b / 2), allowance=joint)
    error = (np.array([off[0]]), np.array([off[1]]), np.radians([measured.included_deg - included]))
    return fit_probability(request), bool(build(request, *error, rng).fits(joint)[0])


def calibration(per_tenth, seed):
    """Simulate until every tenth of stated chance holds ``per_tenth`` builds: return (stated, true) mean of each."""
    rng = np.random.default_rng(seed)
    tenths = [[] for _ in range(10)]
    while min(len(tenth) for tenth in tenths) < per_tenth:
        stated, fitted = stated_and_true(rng)
        tenth = tenths[min(int(stated * 10), 9)]
        if len(tenth) < per_tenth:
            tenth.append((stated, fitted))
    return [tuple(np.mean(tenth, axis=0)) for tenth in tenths]
