"""Many two-leg cut lengths at once: the bare formula, for lists of readings of one pipe and one make-up."""

from collections.abc import Iterable
from math import pi, tan


def cut_lengths_mm(
    readings: Iterable[tuple[float, float, float]],
    *,
    bend_radius_mm: float,
    takes_a_mm: float,
    takes_b_mm: float,
) -> list[tuple[float, float]]:
    """Return the cut lengths of both legs for many tie-ins on a trimmed elbow.

    Args:
        readings: (leg A in mm, leg B in mm, included angle in degrees) of each tie-in, legs from the PI.
        bend_radius_mm: center-line radius of the elbow.
        takes_a_mm: root gap and end deduction of leg A together; ``takes_b_mm`` the same of leg B.

    Returns:
        (cut A, cut B) in mm, one pair for each reading. Nothing is checked: a length may come out below zero.
        ``build`` checks; this ranks, sums and plans.

    Source: cut = leg - R tan(turn / 2) - what the two sides take; geometry.

    >>> [(round(a, 4), round(b, 4)) for a, b in cut_lengths_mm(
    ...     [(36.125, 22.5625, 127.5)], bend_radius_mm=9.0, takes_a_mm=0.09375, takes_b_mm=0.09375)]
    [(31.5929, 18.0304)]

    """
    half = pi / 360.0
    cuts = []
    for leg_a_mm, leg_b_mm, included_deg in readings:
        take_off_mm = bend_radius_mm * tan((180.0 - included_deg) * half)
        cuts.append((leg_a_mm - take_off_mm - takes_a_mm, leg_b_mm - take_off_mm - takes_b_mm))
    return cuts
