"""The mistakes people make with tape and jig, each as the readings would be without it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import gcd, pi

from geometry.adjust import CheckInput, Readings, readings_of
from geometry.instruments import FOOT_MM, INCH_MM

OFTEN = 0.0  # the burned inch, a foot on a leg, the supplement, the legs swapped
SELDOM = 4.0  # everything else must explain the readings clearly better (common practice, no source)
SIXTEENTH_MM = INCH_MM / 16
CHECK_NAMES = ("C", "D", "E")


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake undone.

    ``number`` is the reading it sits in, ``words`` what it was, ``undone`` the readings without it, ``handicap`` what
    is added to its statistic because it is seen seldom.
    """

    code: str
    number: str
    words: str
    undone: Readings
    handicap: float


@dataclass(frozen=True, slots=True)
class _Slip:
    """A length read wrong by ``off_mm`` (recorded minus true), wherever it happens."""

    code: str
    words: str
    off_mm: float
    handicap: float


def known_mistakes(measured: CheckInput) -> tuple[Mistake, ...]:
    """Return every known mistake that could have been made in these readings, undone.

    A mistake whose undoing would leave no length at all is left out. Source: common practice, no source.

    >>> some = known_mistakes(CheckInput(leg_a_mm=939.8, leg_b_mm=609.6, included_deg=135, burn_a_mm=25.4))
    >>> some[0].code, round(some[0].undone.leg_a, 1)
    ('burn_left_in_a', 914.4)
    """
    readings = readings_of(measured)
    found = [*_in_the_legs(measured, readings), *_in_both(measured, readings), *_in_the_checks(measured, readings)]
    return tuple(mistake for mistake in found if _possible(mistake.undone))


def _possible(readings: Readings) -> bool:
    lengths = (readings.leg_a, readings.leg_b, *(check for check in readings.taken if check is not None))
    return min(lengths) > 0.0 and readings.included > 0.0


def _in_the_legs(measured: CheckInput, readings: Readings) -> Iterator[Mistake]:
    tape_a = measured.leg_a_mm + measured.burn_a_mm - measured.set_point_a_mm
    tape_b = measured.leg_b_mm + measured.burn_b_mm - measured.set_point_b_mm
    for slip in _slips({measured.burn_a_mm}, tape_a, OFTEN):
        yield _named(slip, "A", "leg A", replace(readings, leg_a=readings.leg_a - slip.off_mm))
    for slip in _slips({measured.burn_b_mm}, tape_b, OFTEN):
        yield _named(slip, "B", "leg B", replace(readings, leg_b=readings.leg_b - slip.off_mm))


def _in_both(measured: CheckInput, readings: Readings) -> Iterator[Mistake]:
    a, b = readings.leg_a, readings.leg_b
    if measured.burn_a_mm and measured.burn_b_mm:
        both = replace(readings, leg_a=a - measured.burn_a_mm, leg_b=b - measured.burn_b_mm)
        yield Mistake("burn_left_in_both", "AB", "the burned inches on both legs", both, OFTEN)
    yield Mistake("legs_swapped", "AB", "legs A and B swapped", replace(readings, leg_a=b, leg_b=a), OFTEN)
    supplement = replace(readings, included=pi - readings.included)
    words = "the supplement read: the turn written as the included angle"
    yield Mistake("supplement_read", "included", words, supplement, OFTEN)


def _in_the_checks(measured: CheckInput, readings: Readings) -> Iterator[Mistake]:
    burns = {measured.burn_a_mm, measured.burn_b_mm}
    for place, length in enumerate(readings.taken):
        if length is None:
            continue
        for slip in _slips(burns, length, SELDOM):
            often = place == 0 and slip.code.startswith("burn")
            fair = replace(slip, handicap=OFTEN) if often else slip
            name = CHECK_NAMES[place]
            yield _named(fair, name, f"measure {name}", _with_checks(readings, {place}, slip.off_mm))
    if sum(length is not None for length in readings.taken) > 1:
        for burn in sorted(burns - {0.0}):
            undone = _with_checks(readings, {0, 1, 2}, burn)
            yield Mistake("burn_left_in_checks", "CDE", "the burned inches in every check measure", undone, SELDOM)


def _named(slip: _Slip, number: str, where: str, undone: Readings) -> Mistake:
    return Mistake(f"{slip.code}_{number.lower()}", number, slip.words.format(where), undone, slip.handicap)


def _with_checks(readings: Readings, places: set[int], off_mm: float) -> Readings:
    c, d, e = (
        length - off_mm if length is not None and place in places else length
        for place, length in enumerate(readings.taken)
    )
    return replace(readings, taken=(c, d, e))


def _slips(burns: set[float], tape_mm: float, foot_handicap: float) -> Iterator[_Slip]:
    """Yield what can go wrong with one length: burn, foot, inch, fraction; a burn of an inch is not named twice."""
    for burn in sorted(burns - {0.0}):
        yield _Slip("burn_left_in", "the burned inches on {}", burn, foot_handicap)
    yield _Slip("foot_long", "{} a foot too long", FOOT_MM, foot_handicap)
    yield _Slip("foot_short", "{} a foot too short", -FOOT_MM, foot_handicap)
    if not any(abs(burn - INCH_MM) < 0.5 for burn in burns):
        yield _Slip("inch_long", "{} an inch too long", INCH_MM, SELDOM)
    yield _Slip("inch_short", "{} an inch too short", -INCH_MM, SELDOM)
    yield from _fraction_slips(tape_mm)


def _fraction_slips(tape_mm: float) -> Iterator[_Slip]:
    """Yield the fraction of an inch read as its double or its half: 7/16 as 7/8, 7/8 as 7/16."""
    sixteenths = tape_mm / SIXTEENTH_MM
    whole = round(sixteenths)
    if abs(sixteenths - whole) > 0.02 or whole % 16 == 0:
        return
    part = whole % 16
    for true, over in ((part * 2, 16), (part, 32)):
        if true < over:
            words = f"the fraction of {{}}: {_say(true, over)} read as {_say(part, 16)}"
            yield _Slip("fraction_misread", words, (part / 16 - true / over) * INCH_MM, SELDOM)


def _say(numerator: int, denominator: int) -> str:
    shared = gcd(numerator, denominator)
    return f"{numerator // shared}/{denominator // shared}"
