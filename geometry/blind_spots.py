"""What the check measures taken cannot see, and which further measure would see it."""

from geometry.adjust import CheckInput, computed_checks, readings_of
from geometry.blunders import Suspect
from geometry.mistakes import CHECK_NAMES

BLIND = 0.3  # a check that moves less than this for 1 of a leg can't vouch for that leg (common practice, no source)
PLACE_OF_LEG = {"A": 1, "B": 2}


def blind_legs(measured: CheckInput) -> tuple[str, ...]:
    """Return the legs, ``A`` or ``B``, that no check measure taken can vouch for (C is meant where none was taken).

    >>> blind_legs(CheckInput(leg_a_mm=304.8, leg_b_mm=609.6, included_deg=60, closing_mm=528))
    ('A',)
    """
    readings = readings_of(measured)
    rows = computed_checks(readings, measured.mark_mm)
    taken = [row for row, check in zip(rows, readings.taken, strict=True) if check is not None] or [rows[0]]
    return tuple(leg for leg, place in PLACE_OF_LEG.items() if max(abs(row[place]) for row in taken) < BLIND)


def seeing_measure(measured: CheckInput, leg: str) -> str:
    """Return the measure, ``D`` or ``E``, that moves most with a leg."""
    rows = computed_checks(readings_of(measured), measured.mark_mm)
    place = PLACE_OF_LEG[leg]
    return "D" if abs(rows[1][place]) >= abs(rows[2][place]) else "E"


def further_measures(measured: CheckInput, suspects: tuple[Suspect, ...], *, closes: bool) -> tuple[str, ...]:
    """Return what else to measure, of ``D`` and ``E``: for a leg that is not seen, or to tell suspects apart.

    >>> short = CheckInput(leg_a_mm=304.9, leg_b_mm=609.6, included_deg=60, closing_mm=528)
    >>> further_measures(short, (), closes=True)
    ('E',)
    """
    readings = readings_of(measured)
    checked = any(check is not None for check in readings.taken)
    wanted = {seeing_measure(measured, leg) for leg in blind_legs(measured)}
    if checked and not closes and len(suspects) != 1:
        wanted |= {"D", "E"}
    missing = [name for name, taken in zip(CHECK_NAMES, readings.taken, strict=True) if taken is None]
    return tuple(name for name in ("D", "E") if name in wanted and name in missing)
