"""Readings as people type them: the jig's own set point, the burned mark, their style of fractions, honest noise."""

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import cos, radians, sqrt

from cutlists.demo.chance import dice
from cutlists.demo.gallery import Place
from spools.solving import Typed

BURN_IN = 4
TAPE_SIGMA_IN, PROTRACTOR_SIGMA_DEG, CLOSING_SIGMA_IN = 0.02, 0.08, 0.025
CLOSES_WITHIN_IN = 0.1
OVER_BY_IN = (0.135, 0.165)  # over the spool's 1/8 in, within what tape and protractor hold


class Off(Enum):
    """What is wrong with a reading on purpose."""

    NOTHING = "nothing"
    OVER = "C is a little over the tolerance"
    JIG = "the jig's protractor is 0.8 degrees off"


@dataclass(frozen=True, slots=True)
class JigSide:
    """Set points of a jig in inches, and what its protractor reads too little, in degrees."""

    set_point_a_in: float
    set_point_b_in: float


def typed(place: Place, jig: JigSide, *, hand: str, off: Off = Off.NOTHING, take: int = 1, note: str = "") -> Typed:
    """Return what a named field hand types at a tie-in; ``take`` counts the readings of one tie-in."""
    throw = dice("reading", place.number, take)
    for _ in range(200):
        leg_a = _on_tape(place.leg_a_in + throw.gauss(0, TAPE_SIGMA_IN))
        leg_b = _on_tape(place.leg_b_in + throw.gauss(0, TAPE_SIGMA_IN))
        included = 180 - place.turn_deg + throw.gauss(0, PROTRACTOR_SIGMA_DEG) - (0.8 if off is Off.JIG else 0)
        included = round(included * 4) / 4
        closing = _closing(place.leg_a_in, place.leg_b_in, 180 - place.turn_deg) + throw.gauss(0, CLOSING_SIGMA_IN)
        if off is Off.OVER:
            closing += throw.choice((-1, 1)) * 0.15
        closing = _on_tape(closing)
        gap = abs(closing - _closing(leg_a, leg_b, included))
        if OVER_BY_IN[0] < gap < OVER_BY_IN[1] if off is Off.OVER else gap < CLOSES_WITHIN_IN:
            break
    return Typed(
        leg_a=_say(leg_a + BURN_IN - jig.set_point_a_in, hand),
        leg_b=_say(leg_b + BURN_IN - jig.set_point_b_in, hand),
        included=f"{included:g}",
        closing=_say(closing, hand),
        hand=place.hand,
        up_mark="paint arrow up at 12 o'clock",
        note=note,
    )


def _closing(leg_a: float, leg_b: float, included_deg: float) -> float:
    return sqrt(leg_a**2 + leg_b**2 - 2 * leg_a * leg_b * cos(radians(included_deg)))


def _on_tape(inches: float) -> float:
    return round(inches * 16) / 16


def _say(inches: float, hand: str) -> str:
    """Write a length the way this person does: feet and inches, plain inches, or words."""
    whole, part = divmod(Fraction(inches).limit_denominator(16), 1)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    feet, rest = divmod(whole, 12)
    style = sum(map(ord, hand)) % 3
    if style == 0 and feet:
        return f"{feet}' {rest}{'-' + fraction if fraction else ''}\""
    if style == 1:
        return f"{whole}{'-' + fraction if fraction else ''}"
    return f"{whole} {fraction}".strip()
