"""What the joint at end B can take: gap along, offset across and angle, by kind of joint."""

from dataclasses import dataclass
from math import atan, degrees

from geometry.instruments import INCH_MM, PRACTICE
from geometry.tables import PipeRow, groove
from geometry.tables.tolerances import tolerance

SIXTEENTH_MM = INCH_MM / 16
GASKET = f"gasket and bolts draw up 1/16 in: {PRACTICE}"
PULLED_IN = "across: a site must take what a spool may be off (practice), {}"


@dataclass(frozen=True, slots=True, kw_only=True)
class JointAllowance:
    """How far end B may miss and still be joined.

    ``short_mm`` and ``long_mm``: along the pipe, the spool too short or too long. ``offset_mm``: across, either way, in
    the plane of the bend and out of it. ``turn_deg``: between the two pipes' axes, either way.
    """

    joint: str
    short_mm: float
    long_mm: float
    offset_mm: float
    turn_deg: float
    source: str


def welded(pipe: PipeRow, *, field_trim_mm: float = 0.0) -> JointAllowance:
    """Return what a butt weld can take: root gap within 1/16 in all around; across, the spool's own tolerance.

    The pipe is pulled true to hi-lo as it is fitted.

    ``field_trim_mm`` is extra length left on end B to be cut in the field: that much too long is no harm, and as much
    short of it is still long enough.

    >>> from geometry.tables import pipe
    >>> joint = welded(pipe("6", "40"))
    >>> joint.long_mm, round(joint.turn_deg, 2)
    (1.5875, 0.54)
    """
    across = tolerance("spool_linear", pipe.nps)
    return JointAllowance(
        joint="butt weld",
        short_mm=SIXTEENTH_MM + field_trim_mm,
        long_mm=SIXTEENTH_MM + field_trim_mm,
        offset_mm=across.mm,
        turn_deg=degrees(atan(SIXTEENTH_MM / pipe.od_mm)),
        source=f"root gap within 1/16 in all around: {PRACTICE}; {PULLED_IN.format(across.source)}",
    )


def grooved(pipe: PipeRow, *, coupling: str) -> JointAllowance:
    """Return what a generic grooved coupling can take: half its end gap either way, and its deflection.

    ``coupling`` is ``flexible`` or ``rigid``; a rigid one is taken to deflect as a flange may (no public figure).
    Raises ValueError for another word, UnknownPipe for a size without a groove.
    """
    row = groove(pipe.nps)
    if coupling not in ("flexible", "rigid"):
        raise ValueError('Say which coupling: "flexible" or "rigid".')
    flexible = coupling == "flexible"
    across = tolerance("spool_linear", pipe.nps)
    half_gap = (row.flexible_gap_mm if flexible else row.rigid_gap_mm) / 2.0
    return JointAllowance(
        joint=f"{coupling} grooved coupling",
        short_mm=half_gap,
        long_mm=half_gap,
        offset_mm=across.mm,
        turn_deg=row.flexible_deflection_deg if flexible else _face_turn_deg(pipe),
        source=f"gap and deflection: {row.source}, {row.gap_note}; {PULLED_IN.format(across.source)}",
    )


def flanged(pipe: PipeRow) -> JointAllowance:
    """Return what a bolted flange can take: bolt holes across, face against face in angle, gasket along."""
    across = tolerance("branch_translation", pipe.nps)
    return JointAllowance(
        joint="flange",
        short_mm=SIXTEENTH_MM,
        long_mm=SIXTEENTH_MM,
        offset_mm=across.mm,
        turn_deg=_face_turn_deg(pipe),
        source=f"{GASKET}; across: {across.source}; angle: {tolerance('flange_angularity_per_ft', pipe.nps).source}",
    )


def joint_allowance(
    pipe: PipeRow, *, prep: str, coupling: str | None = None, field_trim_mm: float = 0.0
) -> JointAllowance:
    """Return the allowance of the joint that an end preparation makes; what isn't grooved or flanged is welded.

    >>> from geometry.tables import pipe
    >>> joint_allowance(pipe("4", "40"), prep="grooved", coupling="flexible").turn_deg
    1.19
    """
    if prep == "grooved":
        return grooved(pipe, coupling=coupling or "")
    if prep.startswith("flanged"):
        return flanged(pipe)
    return welded(pipe, field_trim_mm=field_trim_mm)


def _face_turn_deg(pipe: PipeRow) -> float:
    """Return the angle across the pipe's OD: the greater of 3/64 in per ft and 1/32 in."""
    per_foot = tolerance("flange_angularity_per_ft", pipe.nps).value * pipe.od_mm / 12.0
    least = tolerance("flange_angularity_least", pipe.nps).mm
    return degrees(atan(max(per_foot, least) / pipe.od_mm))
