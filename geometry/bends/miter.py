"""Miter: pipe cut on the bias and welded, with 1 to 5 welds."""

from dataclasses import replace
from math import cos, degrees, radians, sqrt, tan

from geometry.bends.base import BendChoice, Made, Part, Turn, small_turn
from geometry.bends.trimmed_elbow import LETTERS
from geometry.findings import Figure, Finding, caution, error, warning
from geometry.lengths import MM_PER_INCH, format_length
from geometry.pieces import Mark
from geometry.tables import UnknownPipe, elbow

MOST_WELDS = 5
CODE_CUT_DEG = 22.5
"""Largest cut from square in a miter of several welds. Source: ASME B31.3 304.2.3, read in a public appendix."""
SAW_CUT_DEG = 45.0
"""Largest cut that a swivel saw makes. Source: common practice, no source."""


class Miter:
    """Pipe against pipe: each weld turns its share, each cut is half of that share from square."""

    code = "miter"
    word = "miter"

    def make(self, turn: Turn) -> Made:
        """Divide the turn over the welds, or say why it can't be.

        The center line follows an arc of radius Re tangent to both legs: PI to the first weld Re (tan(d/2) - tan a),
        middle pieces 2 Re tan a, a = d / 2n. One weld has no arc and no take-off. A gap square to the miter's plane
        costs gap / (2 cos a) along each pipe. Source: miter geometry; cut = turn / (2 welds) on public piping pages.
        """
        welds = turn.choice.welds
        if refused := _refused(turn):
            return Made(findings=(refused,))
        cut = radians(turn.turn_deg) / (2.0 * welds)
        radius_mm = effective_radius_mm(turn)
        give_mm = turn.gap_mm / (2.0 * cos(cut))
        middle_mm = 2.0 * radius_mm * tan(cut) - 2.0 * give_mm
        cut_back_mm = turn.pipe.od_mm * tan(cut)
        if welds > 1 and middle_mm - cut_back_mm <= 0.0:
            return Made(findings=(_no_throat(turn, middle_mm, cut_back_mm),))
        part = Part(
            kind="pipe", length_mm=middle_mm, cut_angle_deg=degrees(cut), marks=miter_marks(middle_mm, cut_back_mm)
        )
        take_off_mm = radius_mm * (tan(radians(turn.turn_deg) / 2.0) - tan(cut)) if welds > 1 else 0.0
        return Made(
            take_off_mm=take_off_mm,
            leg_gap_mm=give_mm,
            cut_angle_deg=degrees(cut),
            weld_turn_deg=turn.turn_deg / welds,
            welds=welds,
            parts=(part,) * (welds - 1),
            marks=(Mark("cut_back", cut_back_mm), *((Mark("end_piece", radius_mm * tan(cut)),) if welds > 1 else ())),
            shortest_straight_mm=_code_end_mm(turn, radius_mm),
            findings=_concerns(turn, radius_mm=radius_mm),
        )

    def words(self, choice: BendChoice) -> str:
        """Name the choice."""
        return f"miter, {choice.welds} weld{'s' if choice.welds > 1 else ''}"

    def candidates(self, choice: BendChoice) -> tuple[BendChoice, ...]:
        """Return one to five welds; several follow the long radius, or the radius that was asked."""
        radius_mm = choice.bend_radius_mm if choice.kind == self.code else None
        asked = replace(choice, kind=self.code, bend_radius_mm=radius_mm)
        return tuple(replace(asked, welds=welds) for welds in range(1, MOST_WELDS + 1))


def miter_marks(center_mm: float, cut_back_mm: float) -> tuple[Mark, ...]:
    """Return throat, center and heel of a piece with both cuts facing each other, and the cut-back of one cut.

    >>> [round(mark.value_mm, 1) for mark in miter_marks(100.0, 30.0)]
    [70.0, 100.0, 130.0, 30.0]
    """
    return (
        Mark("throat", center_mm - cut_back_mm),
        Mark("center", center_mm),
        Mark("heel", center_mm + cut_back_mm),
        Mark("cut_back", cut_back_mm),
    )


def effective_radius_mm(turn: Turn) -> float:
    """Return the radius that a miter of several welds follows: the one asked, else the elbow's; 0 for one weld."""
    if turn.choice.welds == 1:
        return 0.0
    if turn.choice.bend_radius_mm is not None:
        return turn.choice.bend_radius_mm
    try:
        return elbow(turn.pipe.nps, f"{LETTERS[turn.choice.radius]}90").bend_radius_mm
    except UnknownPipe:
        return 1.5 * turn.pipe.od_mm if turn.choice.radius == "long" else turn.pipe.od_mm


def code_radius_mm(*, od_mm: float, wall_mm: float, cut_deg: float) -> float:
    """Return the smallest effective radius of a miter of several welds, in mm.

    R1 = A / tan(theta) + D / 2; A is 1 in for walls to 1/2 in, twice the wall to 0.88 in, else 2T/3 + 1.17 in.
    Source: ASME B31.3 304.2.3 as restated in a public bend-design appendix; the last case from memory.

    >>> round(code_radius_mm(od_mm=114.3, wall_mm=6.02, cut_deg=15.0), 1)
    151.9
    """
    wall_in = wall_mm / MM_PER_INCH
    a_in = 1.0 if wall_in <= 0.5 else 2.0 * wall_in if wall_in < 0.88 else 2.0 * wall_in / 3.0 + 1.17
    return a_in * MM_PER_INCH / tan(radians(cut_deg)) + od_mm / 2.0


def code_end_piece_mm(*, od_mm: float, wall_mm: float, cut_deg: float, radius_mm: float) -> float:
    """Return the shortest end piece beside a miter of several welds, at the throat, in mm.

    M = the larger of 2.5 sqrt(r2 T) and tan(theta) (R1 - r2), r2 the mean radius. Source: ASME B31.3 304.2.3, from
    memory.

    >>> round(code_end_piece_mm(od_mm=168.275, wall_mm=7.112, cut_deg=11.25, radius_mm=400.0), 1)
    63.5
    """
    mean_mm = (od_mm - wall_mm) / 2.0
    return max(2.5 * sqrt(mean_mm * wall_mm), tan(radians(cut_deg)) * (radius_mm - mean_mm))


def _code_end_mm(turn: Turn, radius_mm: float) -> float:
    """Return what the code asks beside a miter of several welds; nothing beside one weld or a turn of no miter."""
    if turn.choice.welds == 1 or small_turn(turn.turn_deg):
        return 0.0
    return code_end_piece_mm(
        od_mm=turn.pipe.od_mm,
        wall_mm=turn.pipe.wall_mm,
        cut_deg=turn.turn_deg / (2.0 * turn.choice.welds),
        radius_mm=radius_mm,
    )


def _refused(turn: Turn) -> Finding | None:
    welds = turn.choice.welds
    if not 1 <= welds <= MOST_WELDS:
        return error("miter_welds", f"A miter has 1 to {MOST_WELDS} welds, not {welds}: choose one of these.")
    cut_deg = turn.turn_deg / (2.0 * welds)
    limit_deg = SAW_CUT_DEG if welds == 1 else CODE_CUT_DEG
    if cut_deg <= limit_deg + 1e-9:
        return None
    need = next((n for n in range(2, MOST_WELDS + 1) if turn.turn_deg / (2.0 * n) <= CODE_CUT_DEG + 1e-9), None)
    what = f"take {need} welds" if need else "take a trimmed elbow"
    why = "no saw cuts more than 45" if welds == 1 else "the code stops at 22.5 in a miter of several welds"
    return error(
        "miter_cut_too_steep",
        f"{welds} weld{'s' if welds > 1 else ''} would be cut {cut_deg:.4g} degrees from square and {why}: {what}.",
        Figure("cut_angle", cut_deg, "deg"),
    )


def _no_throat(turn: Turn, middle_mm: float, cut_back_mm: float) -> Finding:
    cut_deg = turn.turn_deg / (2.0 * turn.choice.welds)
    least_mm = code_radius_mm(od_mm=turn.pipe.od_mm, wall_mm=turn.pipe.wall_mm, cut_deg=cut_deg)
    return error(
        "miter_no_throat",
        "The middle pieces would have no throat at this radius: the code asks a radius of at least "
        f"{format_length(least_mm)} for {turn.choice.welds} welds; take that, or fewer welds.",
        Figure("middle_piece_throat", middle_mm - cut_back_mm, "mm"),
        Figure("least_radius", least_mm, "mm"),
    )


def _concerns(turn: Turn, *, radius_mm: float) -> tuple[Finding, ...]:
    """List what the line class and the engineer must say yes to."""
    welds, cut_deg = turn.choice.welds, turn.turn_deg / (2.0 * turn.choice.welds)
    small = small_turn(turn.turn_deg)
    if small:
        return small
    level = caution if turn.choice.miters_allowed else warning
    found = [level("miter_line_class", "The line class must allow miters: ask before cutting.")]
    if welds == 1 and cut_deg > CODE_CUT_DEG + 1e-9:
        text = (
            f"The cut is {cut_deg:.4g} degrees from square, over 22.5: the engineer must say yes, or take more welds."
        )
        found.append(warning("miter_needs_engineer", text, Figure("cut_angle", cut_deg, "deg")))
    if welds > 1:
        least_mm = code_radius_mm(od_mm=turn.pipe.od_mm, wall_mm=turn.pipe.wall_mm, cut_deg=cut_deg)
        if radius_mm < least_mm - 1e-9:
            text = (
                f"The radius is {format_length(radius_mm)}, and the code asks at least {format_length(least_mm)} "
                f"for {welds} welds: take that radius or fewer welds, or ask the engineer."
            )
            found.append(warning("miter_radius_short", text, Figure("least_radius", least_mm, "mm")))
    return tuple(found)
