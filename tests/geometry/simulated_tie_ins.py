"""Simulated tie-ins with one known mistake each: legs 14 to 60 in, included 75 to 165, burn 1, 2 or 4 in."""

import random
from dataclasses import dataclass, replace
from math import cos, radians, sqrt

from geometry.agreement import agrees
from geometry.blunders import suspects
from geometry.checks import CheckInput, MeasuringSigmas

IN = 25.4
SIGMAS = MeasuringSigmas(tape_mm=IN / 16, protractor_deg=0.5, closing_mm=0.08 * IN)
SETS = ("C", "CD", "CE", "CDE")
KINDS = (
    "none",
    "burn_left_in_a",
    "burn_left_in_b",
    "burn_left_in_both",
    "burn_left_in_c",
    "supplement_read",
    "foot_a",
    "foot_b",
    "legs_swapped",
)


@dataclass(frozen=True)
class Tally:
    """Shares of the simulated tie-ins: found, named alone and right, right among those named, named alone but wrong."""

    found: float
    right: float
    among: float
    wrong: float
    named: float


def third_side(a, b, included_deg):
    """Return the third side by the plain cosine law, so that the product's own formula isn't used to judge it."""
    return sqrt(a * a + b * b - 2 * a * b * cos(radians(included_deg)))


def tie_in(kind, checks, rng, *, sixteenths=False):
    """Return the readings of one tie-in with one mistake of a kind, and the code of the mistake made."""
    a, b, included = rng.uniform(14, 60) * IN, rng.uniform(14, 60) * IN, rng.uniform(75, 165)
    burn, sign = rng.choice((1, 2, 4)) * IN, rng.choice((1, -1))
    closing = [third_side(leg, b, included) + rng.gauss(0, SIGMAS.closing_mm) for leg in (a, 12 * IN, a - 12 * IN)]
    a, b = a + rng.gauss(0, SIGMAS.tape_mm), b + rng.gauss(0, SIGMAS.tape_mm)
    included = min(included + rng.gauss(0, SIGMAS.protractor_deg), 180.0)
    if sixteenths:
        a, b, *closing = (round(length / IN * 16) / 16 * IN for length in (a, b, *closing))
    c, d, e = (length if name in checks else None for name, length in zip("CDE", closing, strict=True))
    clean = CheckInput(
        leg_a_mm=a,
        leg_b_mm=b,
        included_deg=included,
        closing_mm=c,
        mark_to_end_b_mm=d,
        back_mark_to_end_b_mm=e,
        burn_a_mm=burn,
        burn_b_mm=burn,
        sigmas=SIGMAS,
    )
    return spoil(kind, clean, burn, sign)


def spoil(kind, clean, burn, sign):
    """Put the mistake into clean readings."""
    a, b = clean.leg_a_mm, clean.leg_b_mm
    foot = sign * 12 * IN
    side = "long" if sign > 0 else "short"
    changed = {
        "none": {},
        "burn_left_in_a": {"leg_a_mm": a + burn},
        "burn_left_in_b": {"leg_b_mm": b + burn},
        "burn_left_in_both": {"leg_a_mm": a + burn, "leg_b_mm": b + burn},
        "burn_left_in_c": {"closing_mm": clean.closing_mm + burn},
        "supplement_read": {"included_deg": max(180.0 - clean.included_deg, 1e-3)},
        "foot_a": {"leg_a_mm": a + foot if a + foot > IN else a + abs(foot)},
        "foot_b": {"leg_b_mm": b + foot if b + foot > IN else b + abs(foot)},
        "legs_swapped": {"leg_a_mm": b, "leg_b_mm": a},
    }[kind]
    spoiled = replace(clean, **changed)
    if kind in ("foot_a", "foot_b"):
        grown = spoiled.leg_a_mm > a or spoiled.leg_b_mm > b
        side = "long" if grown else "short"
        return spoiled, f"foot_{side}_{kind[-1]}"
    return spoiled, kind


def tally(kind, checks, count, seed, *, sixteenths=False):
    """Simulate ``count`` tie-ins of one kind and count what the check said of them."""
    rng = random.Random(seed)
    found = right = among = wrong = named = 0
    for _ in range(count):
        measured, code = tie_in(kind, checks, rng, sixteenths=sixteenths)
        if agrees(measured):
            continue
        found += 1
        codes = [suspect.code for suspect in suspects(measured)]
        named += len(codes)
        among += code in codes
        right += codes == [code]
        wrong += len(codes) == 1 and codes != [code]
    return Tally(found / count, right / count, among / count, wrong / count, named / max(found, 1))
