"""The plain closing check of a build: does C, as measured, agree with the legs and the included angle."""

from geometry.adjust import CheckInput
from geometry.agreement import agrees
from geometry.findings import Figure, Finding, error, warning
from geometry.lengths import MM_PER_INCH, format_length
from geometry.tables import nps_inches

EIGHTH_MM = MM_PER_INCH / 8.0


def spool_tolerance_mm(nps: str) -> float:
    """Return how far a finished spool may be off end to end: 1/8 in to NPS 10, 3/16 in to NPS 24, 1/4 in above.

    Source: PFI ES-3 paragraphs 2.2 and 2.3.

    >>> spool_tolerance_mm("4") / 25.4, round(spool_tolerance_mm("12") / 25.4, 4)
    (0.125, 0.1875)
    """
    size = nps_inches(nps)
    eighths = 1.0 if size <= 10.0 else 1.5 if size <= 24.0 else 2.0
    return EIGHTH_MM * eighths


def tie_in_closing(
    measured: CheckInput, *, computed_mm: float, nps: str, misclosure_accepted: bool
) -> tuple[Finding, ...]:
    """Compare C as measured with C as computed, both between the measured references, in mm.

    Args: the reading with its check measure; C as computed; the nominal size; whether a named person let it go.
    Returns: an error where the instruments can't explain the difference, a warning where they can but the spool's own
    tolerance is passed, or where C is missing. The full check, with the likely mistake, is ``check_reading``.
    """
    if measured.closing_mm is None:
        text = (
            "Do not cut yet: without C nothing checks these three numbers. Measure end to end from the tape's hook; "
            f"it should be {format_length(computed_mm)}."
        )
        return (warning("check_missing", text, Figure("closing_computed", computed_mm, "mm")),)
    if not agrees(measured):
        return (_off(measured.closing_mm, computed_mm, misclosure_accepted=misclosure_accepted),)
    tolerance_mm = spool_tolerance_mm(nps)
    if abs(measured.closing_mm - computed_mm) <= tolerance_mm + 1e-9:
        return ()
    text = (
        f"C was measured {format_length(measured.closing_mm)} and computes to {format_length(computed_mm)}: within "
        f"what tape and protractor hold, but over the spool's {format_length(tolerance_mm)}. "
        "Read the included angle again, or build to the adjusted figures."
    )
    return (warning("over_spool_tolerance", text, *_figures(measured.closing_mm, computed_mm)),)


def chain_closing(*, nps: str, measured_mm: float | None, computed_mm: float) -> tuple[Finding, ...]:
    """Compare the end-to-end measure of a spool of several bends with its center line, in mm, when it was taken."""
    if measured_mm is None or abs(measured_mm - computed_mm) <= spool_tolerance_mm(nps) + 1e-9:
        return ()
    return (_off(measured_mm, computed_mm, misclosure_accepted=False),)


def _off(measured_mm: float, computed_mm: float, *, misclosure_accepted: bool) -> Finding:
    off_mm = measured_mm - computed_mm
    text = (
        f"Do not cut: C was measured {format_length(measured_mm)} and these legs and included angle give "
        f"{format_length(computed_mm)}, {format_length(abs(off_mm))} {'short' if off_mm > 0.0 else 'long'} of it. "
        "Measure again."
    )
    figures = _figures(measured_mm, computed_mm)
    if misclosure_accepted:
        return warning("does_not_close", f"{text} Let go by a named person.", *figures)
    return error("does_not_close", text, *figures)


def _figures(measured_mm: float, computed_mm: float) -> tuple[Figure, Figure]:
    return Figure("closing_measured", measured_mm, "mm"), Figure("closing_computed", computed_mm, "mm")
