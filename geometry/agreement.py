"""Whether the check measures taken agree with the legs and the included angle."""

from dataclasses import dataclass
from math import radians, sqrt

from geometry.adjust import CheckInput, Row, adjusted_reading, readings_of
from geometry.thresholds import THRESHOLDS

LEAST_SEEN, MOST_SEEN = 1.0, 5.0
"""A burned inch that stands out by fewer sigmas can't be told from noise; by more, any test finds it. Between them a
test of its own pays. Common practice, no source; measured by tests/benchmarks/blunder_table.py."""


@dataclass(frozen=True, slots=True)
class _Lean:
    """How many sigmas a leg stands above what all the others make of it, and how many its burned inches would be."""

    sigmas: float
    burned: float

    @property
    def looked_for(self) -> bool:
        """Whether the leg gets a one-sided test of its own."""
        return LEAST_SEEN < self.burned < MOST_SEEN


def agrees(measured: CheckInput) -> bool:
    """Tell whether all check measures taken agree with the legs and the included angle.

    Chi-squared on everything left over sees any mistake. Where the burned inches of a leg would stand out a little, but
    not so far that chi-squared is sure to find them, it is run at half the significance, and a one-sided normal test
    looks for them: the commonest mistake, and it only ever makes a leg too long.
    Source: least-squares testing; the shares are in geometry.thresholds.

    >>> inch = {"burn_a_mm": 25.4, "burn_b_mm": 25.4, "leg_b_mm": 609.6, "included_deg": 135, "closing_mm": 1413}
    >>> agrees(CheckInput(leg_a_mm=914.4, **inch)), agrees(CheckInput(leg_a_mm=939.8, **inch))
    (True, False)
    """
    readings = readings_of(measured)
    checks = sum(check is not None for check in readings.taken)
    if checks == 0:
        return True
    limits = THRESHOLDS[measured.significance]
    adjusted = adjusted_reading(measured)
    tape = measured.sigmas.tape_mm
    leans = (
        _lean(readings.leg_a - adjusted.leg_a_mm, tape, adjusted.sigma_a_mm, measured.burn_a_mm),
        _lean(readings.leg_b - adjusted.leg_b_mm, tape, adjusted.sigma_b_mm, measured.burn_b_mm),
    )
    looked_for = [lean.sigmas for lean in leans if lean.looked_for]
    if not looked_for:
        return adjusted.statistic <= limits.critical_alone[checks - 1]
    one_sided = limits.long_leg[0 if checks == 1 else 1]
    return adjusted.statistic <= limits.critical[checks - 1] and max(looked_for) <= one_sided


def closing_limit_mm(measured: CheckInput, row: Row, *, misclosure_mm: float | None) -> float:
    """Return how far C alone may be off on the side where it is off, in mm: nearer where a burned inch would put it.

    Args: the reading; C as computed with its slopes; measured C less that, None where C wasn't taken.
    """
    _, per_a, per_b, per_radian = row
    tape, turn = measured.sigmas.tape_mm, radians(measured.sigmas.protractor_deg)
    sigma = sqrt((per_a * tape) ** 2 + (per_b * tape) ** 2 + (per_radian * turn) ** 2 + measured.sigmas.closing_mm**2)
    limits = THRESHOLDS[measured.significance]
    side = 0.0 if misclosure_mm is None else misclosure_mm
    looked_for = [
        per
        for per, burn_mm in ((per_a, measured.burn_a_mm), (per_b, measured.burn_b_mm))
        if _Lean(0.0, abs(per) * burn_mm / sigma).looked_for
    ]
    if not looked_for:
        return sigma * sqrt(limits.critical_alone[0])
    burned_side = any(per * side <= 0.0 for per in looked_for)  # a leg too long by its burn makes C look short
    return sigma * (limits.long_leg[0] if burned_side else sqrt(limits.critical[0]))


def _lean(too_long_mm: float, before_mm: float, after_mm: float, burn_mm: float) -> _Lean:
    """Return the standardized correction of a leg, and that of its burn left in."""
    learned = before_mm**2 - after_mm**2
    if learned <= 1e-9 * before_mm**2:
        return _Lean(0.0, 0.0)
    return _Lean(too_long_mm / sqrt(learned), burn_mm * sqrt(learned) / before_mm**2)
