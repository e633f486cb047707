"""Which known mistake explains readings that do not agree: undo each, adjust again, compare."""

from dataclasses import dataclass, replace
from math import degrees, radians, sqrt

from geometry.adjust import (
    Adjusted,
    CheckInput,
    Readings,
    Three,
    absorb,
    adjust,
    computed_checks,
    readings_of,
    variances_of,
)
from geometry.mistakes import CHECK_NAMES, Mistake, known_mistakes
from geometry.thresholds import THRESHOLDS

CLOSE_ODDS = 6.0  # statistics within 6 of the best are odds of up to 20 to 1: all of them are named
MOST_NAMED = 4
SET_FREE = 1e9  # variance of a reading that is left out, mm2 or radians squared


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One mistake that would explain the readings, the likeliest first.

    ``number`` is the reading to take again: ``A``, ``B``, ``AB``, ``C``, ``D``, ``E``, ``CDE`` or ``included``.
    ``should_be`` is what that reading would be without the mistake (mm, or degrees for ``included``),
    None where two numbers change. ``statistic`` is what is left after the mistake is undone.
    """

    code: str
    number: str
    words: str
    should_be: float | None
    statistic: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallestSeen:
    """The smallest error in one number (``A``, ``B``, ``included``, ``C``, ``D``, ``E``) found 8 times in 10.

    ``size`` in mm, degrees for ``included``; None where the check measures taken cannot see it at all.
    """

    number: str
    size: float | None
    unit: str


def suspects(measured: CheckInput) -> tuple[Suspect, ...]:
    """Return the mistakes that would explain readings that do not agree, the likeliest first, at most four.

    Each known mistake is undone and the rest adjusted again; those whose statistic passes are ranked, and all within
    close odds of the best are named. Where none passes, single readings that alone spoil the rest are named instead.
    """
    readings = readings_of(measured)
    checks = sum(check is not None for check in readings.taken)
    if checks == 0:
        return ()
    limit = THRESHOLDS[measured.significance].critical[checks - 1]
    ranked = _ranked(measured, known_mistakes(measured), limit)
    return ranked or _one_reading_spoils(measured, readings, limit)


def smallest_seen(measured: CheckInput) -> tuple[SmallestSeen, ...]:
    """Return, for each number, the smallest error that the check measures taken would find 8 times in 10.

    Source: noncentral chi-squared, first order: size = sqrt(noncentrality / (v' W^-1 v)), v what one unit does to the
    checks, W their variance.

    >>> seen = smallest_seen(CheckInput(leg_a_mm=914.4, leg_b_mm=609.6, included_deg=135, closing_mm=1413))
    >>> [(one.number, round(one.size, 1)) for one in seen]
    [('A', 13.6), ('B', 14.6), ('included', 2.7), ('C', 12.9)]
    """
    readings = readings_of(measured)
    rows = [
        row for row, taken in zip(computed_checks(readings, measured.mark_mm), readings.taken, strict=True) if taken
    ]
    if not rows:
        return ()
    noncentrality = THRESHOLDS[measured.significance].power_80[len(rows) - 1]
    slopes = [row[1:] for row in rows]
    seen = []
    for place, (number, unit) in enumerate((("A", "mm"), ("B", "mm"), ("included", "deg"))):
        seen.append((number, unit, [slope[place] for slope in slopes]))
    names = [name for name, taken in zip(CHECK_NAMES, readings.taken, strict=True) if taken]
    for place, name in enumerate(names):
        seen.append((name, "mm", [float(place == other) for other in range(len(rows))]))
    return tuple(
        SmallestSeen(number=number, unit=unit, size=_size(noncentrality, _visibility(measured, slopes, moves), unit))
        for number, unit, moves in seen
    )


def _size(noncentrality: float, visibility: float, unit: str) -> float | None:
    size = sqrt(noncentrality / visibility) if visibility > 1e-12 else None
    if size is None or unit == "mm":
        return size if size is None or size < 1e4 else None
    return degrees(size) if degrees(size) < 90.0 else None


def _visibility(measured: CheckInput, slopes: list[tuple[float, float, float]], moves: list[float]) -> float:
    """Return v' W^-1 v: how strongly the checks as a whole see one unit of an error that moves them by ``moves``."""
    rows = [(a, b, g, move) for (a, b, g), move in zip(slopes, moves, strict=True)]
    return absorb(rows, variances_of(measured.sigmas), measured.sigmas.closing_mm**2)[2]


def _adjust(measured: CheckInput, readings: Readings, variances: Three) -> Adjusted:
    check_variance = measured.sigmas.closing_mm**2
    return adjust(readings, mark=measured.mark_mm, variances=variances, check_variance=check_variance)


def _ranked(measured: CheckInput, mistakes: tuple[Mistake, ...], limit: float) -> tuple[Suspect, ...]:
    variances = variances_of(measured.sigmas)
    judged = [(_adjust(measured, mistake.undone, variances).statistic, mistake) for mistake in mistakes]
    passing = sorted(
        ((statistic + mistake.handicap, statistic, mistake) for statistic, mistake in judged if statistic <= limit),
        key=lambda one: one[0],
    )
    near = [one for one in passing if one[0] <= passing[0][0] + CLOSE_ODDS]
    return tuple(_suspect(mistake, statistic) for _, statistic, mistake in near[:MOST_NAMED])


def _suspect(mistake: Mistake, statistic: float) -> Suspect:
    undone = mistake.undone
    values = {"A": undone.leg_a, "B": undone.leg_b, "included": degrees(undone.included)}
    values |= {name: length for name, length in zip(CHECK_NAMES, undone.taken, strict=True) if length is not None}
    return Suspect(
        code=mistake.code,
        number=mistake.number,
        words=mistake.words,
        should_be=values.get(mistake.number),
        statistic=statistic,
    )


def _one_reading_spoils(measured: CheckInput, readings: Readings, limit: float) -> tuple[Suspect, ...]:
    """Name single readings without which all the others agree; it takes two check measures to tell."""
    if sum(check is not None for check in readings.taken) < 2:
        return ()
    usual = variances_of(measured.sigmas)
    found = []
    for place, (number, words) in enumerate(
        (("A", "leg A misread"), ("B", "leg B misread"), ("included", "the included angle misread"))
    ):
        free = tuple(SET_FREE if place == other else variance for other, variance in enumerate(usual))
        made = _adjust(measured, readings, (free[0], free[1], free[2]))
        value = (made.leg_a_mm, made.leg_b_mm, made.included_deg)[place]
        found.append((made.statistic, number, words, value))
    for place, name in enumerate(CHECK_NAMES):
        if readings.taken[place] is not None:
            taken = [None if place == other else check for other, check in enumerate(readings.taken)]
            made = _adjust(measured, replace(readings, taken=(taken[0], taken[1], taken[2])), usual)
            at = Readings(made.leg_a_mm, made.leg_b_mm, radians(made.included_deg), readings.taken)
            found.append(
                (made.statistic, name, f"measure {name} misread", computed_checks(at, measured.mark_mm)[place][0])
            )
    passing = sorted(one for one in found if one[0] <= limit)
    return tuple(
        Suspect(code=f"misread_{number.lower()}", number=number, words=words, should_be=value, statistic=statistic)
        for statistic, number, words, value in passing
        if statistic <= passing[0][0] + CLOSE_ODDS
    )
