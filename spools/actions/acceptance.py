"""What is measured at acceptance: the check dimension and the included angle, against the print and its tolerance."""

from typing import Any

from geometry.tables.sizes import UnknownPipe
from geometry.tables.tolerances import tolerance
from spools.errors import ShopError, invalid
from spools.models import Spool
from spools.say_lengths import say_length

# What a shop's protractor can tell and a spool can take. Common practice, no source.
INCLUDED_TOLERANCE_DEG = 0.5
OWN_CLASS = "the job's own"


def tolerance_class(nps: str, tolerance_mm: float) -> str:
    """Return the class that a linear tolerance keeps to: PFI ES-3 where it is no wider than that allows.

    >>> tolerance_class("6", 3.175), tolerance_class("6", 4.0)
    ('PFI ES-3', "the job's own")
    """
    try:
        allowed_mm = tolerance("spool_linear", nps).mm
    except UnknownPipe:
        return OWN_CLASS
    return "PFI ES-3" if tolerance_mm <= allowed_mm + 1e-9 else OWN_CLASS


def must_be_right(spool: Spool, *, check_mm: float | None, included_deg: float | None, reason: str) -> None:
    """Refuse an acceptance without C, and one that is off without a reason; the included angle is measured or left.

    Raises ``ShopError``: invalid (C is missing), check_off.
    """
    if check_mm is None:
        raise invalid(
            {"check": "Measure end to end from the hook and type it, such as 4' 0-1/8\""},
            "The check dimension is missing.",
        )
    words, facts = [], {}
    off_mm = check_mm - spool.check_mm
    if abs(off_mm) > spool.check_tolerance_mm:
        over = say_length(abs(off_mm), spool.tie_in.job.units)
        words.append(f"The check dimension is {over} {'over' if off_mm > 0 else 'under'}.")
        facts["off_mm"] = off_mm
    off_deg = 0.0 if included_deg is None else included_deg - print_included_deg(spool)
    if abs(off_deg) > INCLUDED_TOLERANCE_DEG:
        words.append(f"The included angle is {abs(off_deg):.1f}° {'over' if off_deg > 0 else 'under'}.")
        facts["off_deg"] = off_deg
    if words and not reason:
        raise ShopError(
            "check_off",
            " ".join(words),
            "Measure again; if it stands, reject the weld, or accept it with a reason.",
            status=422,
            facts=facts,
        )


def print_included_deg(spool: Spool) -> float:
    """Return the included angle on the print."""
    return 180.0 - spool.turn_deg


def as_printed(spool: Spool) -> dict[str, Any]:
    """Return what the print asked for on the day, to stand in the record beside what was measured."""
    return {
        "check_mm": spool.check_mm,
        "tolerance_mm": spool.check_tolerance_mm,
        "included_deg": print_included_deg(spool),
        "tolerance_deg": INCLUDED_TOLERANCE_DEG,
        "class": tolerance_class(spool.nps, spool.check_tolerance_mm),
    }
