"""Trimmed elbow: a 90, or a 180 return for sharper turns, cut down on a plane through the bend's center."""

from dataclasses import replace
from math import degrees, radians, tan

from geometry.bends.base import TURN_SLACK_DEG, BendChoice, Made, Part, Turn, arc_marks, small_turn
from geometry.findings import Figure, Finding, caution, error
from geometry.pieces import Mark
from geometry.tables import ElbowRow, UnknownPipe, elbow

WORDS = {"long": "long radius", "short": "short radius"}
LETTERS = {"long": "LR", "short": "SR"}


class TrimmedElbow:
    """An elbow cut to the turn that the jig read; take-off R tan(turn / 2), never the table of whole 45s."""

    code = "trimmed_elbow"
    word = "trimmed elbow"

    def make(self, turn: Turn) -> Made:
        """Cut the elbow to the turn, or say why it can't be.

        Source: tangent of a circular arc; arcs as Hamilton, Math To Build On, section Cutting Elbows.
        """
        choice = turn.choice
        source = source_of(turn.turn_deg, choice)
        if turn.turn_deg > float(source) + TURN_SLACK_DEG:
            return Made(findings=(_too_sharp(turn.turn_deg, source),))
        kind = f"{LETTERS[choice.radius]}{source}"
        try:
            row = elbow(turn.pipe.nps, kind)
        except UnknownPipe as missing:
            return Made(findings=(error("no_such_elbow", f"{missing} Choose another radius or a miter."),))
        radius_mm = row.bend_radius_mm
        arcs = arc_marks(radius_mm=radius_mm, od_mm=turn.pipe.od_mm, turn_deg=turn.turn_deg)
        left_deg = left_over_deg(turn, radius_mm=radius_mm, source_deg=float(source))
        part = Part(
            kind="elbow",
            length_mm=radius_mm * radians(turn.turn_deg),
            marks=arcs,
            made_from=kind,
            turn_deg=turn.turn_deg,
            bend_radius_mm=radius_mm,
            trimmed=left_deg > 0.0 or turn.turn_deg < float(source) - TURN_SLACK_DEG,
        )
        return Made(
            take_off_mm=radius_mm * tan(radians(turn.turn_deg / 2.0)),
            leg_gap_mm=turn.gap_mm,
            welds=2,
            parts=(part,),
            marks=(*arcs, Mark("left_over", left_deg, "deg")),
            left_over_deg=left_deg,
            findings=_cautions(turn, row, trimmed=part.trimmed),
        )

    def words(self, choice: BendChoice) -> str:
        """Name the choice."""
        return f"trimmed {WORDS[choice.radius]} elbow"

    def candidates(self, choice: BendChoice) -> tuple[BendChoice, ...]:
        """Return the long and the short radius, each from the smallest fitting that can give the turn."""
        return (
            replace(choice, kind=self.code, radius="long", source=None),
            replace(choice, kind=self.code, radius="short", source=None),
        )


def source_of(turn_deg: float, choice: BendChoice) -> str:
    """Return ``90`` or ``180``: what was chosen, else the 90 while it can give the turn.

    >>> source_of(90.0000001, BendChoice()), source_of(90.25, BendChoice())
    ('90', '180')
    """
    return choice.source or ("90" if turn_deg <= 90.0 + TURN_SLACK_DEG else "180")


def left_over_deg(turn: Turn, *, radius_mm: float, source_deg: float) -> float:
    """Return the degrees of elbow left over once the turn and the kerf are off, never below 0.

    The kerf is taken on the center line: kerf / R.
    """
    rest = source_deg - turn.turn_deg - degrees(turn.kerf_mm / radius_mm)
    return max(rest, 0.0)


def _too_sharp(turn_deg: float, source: str) -> Finding:
    return error(
        "turn_over_90",
        f"One trimmed {source} can't turn {turn_deg:.10g} degrees: cut it from a 180 return, "
        "or take a miter of three or more welds.",
        Figure("turn", turn_deg, "deg"),
    )


def _cautions(turn: Turn, row: ElbowRow, *, trimmed: bool) -> tuple[Finding, ...]:
    found = [*small_turn(turn.turn_deg)]
    if trimmed:
        found.append(
            caution("check_hi_lo", "Check hi-lo: a trimmed face can be out of round and thicker than the pipe.")
        )
    else:
        found.append(caution("nothing_to_trim", f"A whole {row.kind} gives this turn: nothing to trim."))
    return (*found, *old_stock(turn.pipe.nps))


def old_stock(nps: str) -> tuple[Finding, ...]:
    """Return the caution on NPS 3/4, where older elbows are shorter. Source: older ASME B16.9, from memory."""
    if nps != "3/4":
        return ()
    text = 'NPS 3/4 elbows of older stock are 1-1/8" center to end, current ones 1-1/2": measure before cutting.'
    return (caution("old_elbow", text),)
