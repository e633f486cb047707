"""A second, independent reading of the same tie-in: does it confirm the first, or must somebody ask."""

from dataclasses import dataclass
from math import hypot

from geometry.findings import Figure, Finding, caution, warning
from geometry.instruments import INCH_MM, PROTRACTOR, TAPE
from geometry.lengths import format_length
from geometry.thresholds import THRESHOLDS

LIMIT = THRESHOLDS[0.01].critical[2]  # chi-squared, three numbers, as the closing check has it
SAME_SLIP_MM = INCH_MM / 4  # a difference this near to the burn is the burn (common practice, no source)
FOOT_MM = 12 * INCH_MM
ASK = "Ask both, or measure a third time, before it is cut."


@dataclass(frozen=True, slots=True, kw_only=True)
class Legs:
    """One reading as it counts: legs from the pivot center and included angle, and the burn of each side, in mm."""

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    burn_a_mm: float
    burn_b_mm: float


def compare(first: Legs, second: Legs, *, first_letter: str, first_by: str) -> Finding:
    """Return ``confirms`` (caution) or ``differs`` (warning, with the likely mistake in one of the two).

    Both readings carry the same doubt, so a difference has sqrt 2 times the sigma of one number; all three are judged
    together by chi-squared. Source: the sigmas of geometry.instruments; common practice otherwise.

    >>> one = Legs(leg_a_mm=900, leg_b_mm=600, included_deg=130, burn_a_mm=101.6, burn_b_mm=101.6)
    >>> two = Legs(leg_a_mm=902, leg_b_mm=599, included_deg=130.5, burn_a_mm=101.6, burn_b_mm=101.6)
    >>> compare(one, two, first_letter="A", first_by="Ruiz").code
    'confirms'
    """
    off_a, off_b = second.leg_a_mm - first.leg_a_mm, second.leg_b_mm - first.leg_b_mm
    off_included = second.included_deg - first.included_deg
    figures = (
        Figure("leg A differs", off_a, "mm"),
        Figure("leg B differs", off_b, "mm"),
        Figure("included differs", off_included, "deg"),
    )
    statistic = (off_a**2 + off_b**2) / (2 * TAPE.value**2) + off_included**2 / (2 * PROTRACTOR.value**2)
    if statistic <= LIMIT:
        return caution("confirms", f"Confirms reading {first_letter} by {first_by}.", *figures)
    legs = f"leg A by {format_length(abs(off_a))}, leg B by {format_length(abs(off_b))}"
    said = f"{legs}, included by {abs(off_included):.3g} degrees"
    likely = _likely(first, second, off_a, off_b, off_included)
    because = f" Most likely {likely}, in one of the two." if likely else ""
    return warning("differs", f"Differs from reading {first_letter} by {first_by}: {said}.{because} {ASK}", *figures)


def _likely(first: Legs, second: Legs, off_a: float, off_b: float, off_included: float) -> str:
    usual_mm, usual_deg = 2.6 * hypot(TAPE.value, TAPE.value), 2.6 * hypot(PROTRACTOR.value, PROTRACTOR.value)
    legs_agree = max(abs(off_a), abs(off_b)) <= usual_mm
    if legs_agree and abs(first.included_deg + second.included_deg - 180.0) <= usual_deg:
        return "the supplement read for the included angle"
    swapped = abs(second.leg_a_mm - first.leg_b_mm) <= usual_mm and abs(second.leg_b_mm - first.leg_a_mm) <= usual_mm
    if swapped and not legs_agree:
        return "legs A and B swapped"
    slips = [
        _slip(leg, off, burns)
        for leg, off, burns in (
            ("A", off_a, (first.burn_a_mm, second.burn_a_mm)),
            ("B", off_b, (first.burn_b_mm, second.burn_b_mm)),
        )
        if abs(off) > usual_mm
    ]
    return " and ".join(slip for slip in slips if slip)


def _slip(leg: str, off_mm: float, burns_mm: tuple[float, float]) -> str:
    if any(abs(abs(off_mm) - burn) <= SAME_SLIP_MM for burn in burns_mm if burn):
        return f"the burned inches on leg {leg}"
    if abs(abs(off_mm) - FOOT_MM) <= SAME_SLIP_MM:
        return f"a foot on leg {leg}"
    if abs(abs(off_mm) - INCH_MM) <= SAME_SLIP_MM:
        return f"an inch on leg {leg}"
    return f"leg {leg} misread"
