"""What stops a request before anything is computed."""

from math import isfinite

from geometry.bends import UnknownMakeUp, make_up
from geometry.ends import UnknownEnd, end_prep
from geometry.findings import Finding, error, warning
from geometry.lengths import MM_PER_INCH
from geometry.spool import ChainRequest

WIDEST_GAP_MM = MM_PER_INCH / 2.0
KNOWN_MATERIALS = ("carbon steel", "stainless steel")


def request_problems(request: ChainRequest) -> tuple[Finding, ...]:
    """List what stops before anything is computed: gap, kerf, unknown make-ups and ends."""
    found = []
    if not (isfinite(request.root_gap_mm) and 0.0 <= request.root_gap_mm <= WIDEST_GAP_MM):
        found.append(error("root_gap_unlikely", 'The root gap must be from 0 to 1/2": a WPS asks 1/16" to 1/8".'))
    if not (isfinite(request.kerf_mm) and 0.0 <= request.kerf_mm <= MM_PER_INCH):
        found.append(error("kerf_unlikely", 'The kerf must be from 0 to 1": measure the saw once.'))
    if request.closing_mm is not None and not 0.0 < request.closing_mm < 1e6:
        found.append(error("closing_not_a_length", "C must be longer than zero: read the tape again."))
    if len(request.bends) != len(request.line.turns_deg):
        text = f"{len(request.line.turns_deg)} turns and {len(request.bends)} make-ups: choose one for each turn."
        found.append(error("bends_dont_match", text))
    for choice in request.bends:
        try:
            make_up(choice.kind)
        except UnknownMakeUp as unknown:
            found.append(error("make_up_unknown", str(unknown)))
    for end in (request.end_a, request.end_b):
        try:
            end_prep(end.prep)
        except UnknownEnd as unknown:
            found.append(error("end_unknown", str(unknown)))
    return tuple(found)


def material_findings(material: str) -> tuple[Finding, ...]:
    """Warn of a material that the form doesn't know; nothing is said of those it does."""
    if material in KNOWN_MATERIALS:
        return ()
    text = f'Material "{material[:40]}" is not measured by this form; ask before cutting.'
    return (warning("material_unknown", text),)
