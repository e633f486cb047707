"""Whole elbow: a 45 or a 90 as it comes, at the center-to-end of its table."""

from dataclasses import replace
from math import radians, tan

from geometry.bends.base import TURN_SLACK_DEG, BendChoice, Made, Part, Turn
from geometry.bends.trimmed_elbow import LETTERS, WORDS, old_stock
from geometry.findings import Figure, Finding, error
from geometry.tables import UnknownPipe, elbow

WHOLE_TURNS_DEG = (45.0, 90.0)


class WholeElbow:
    """A fitting as it comes. Take-off is the table's own center-to-end, never R tan(turn / 2).

    Source: ASME B16.9; its 45 is up to 0.26 in longer than the formula (NPS 1) and 0.17 in shorter (NPS 22).
    """

    code = "whole_elbow"
    word = "whole elbow"

    def make(self, turn: Turn) -> Made:
        """Take the whole fitting, or say why it can't be."""
        nearest = min(WHOLE_TURNS_DEG, key=lambda whole: abs(whole - turn.turn_deg))
        if abs(turn.turn_deg - nearest) > TURN_SLACK_DEG:
            return Made(findings=(_other_turn(turn.turn_deg, nearest),))
        if turn.choice.radius == "short" and nearest < 90.0:
            text = "Short radius elbows come as 90 and 180 only: choose the long radius, or trim a short one."
            return Made(findings=(error("no_such_elbow", text),))
        kind = f"{LETTERS[turn.choice.radius]}{nearest:.0f}"
        try:
            row = elbow(turn.pipe.nps, kind)
        except UnknownPipe as missing:
            return Made(findings=(error("no_such_elbow", f"{missing} Choose the long radius, or trim one."),))
        center_to_end_mm = row.standard_mm
        # An arc that ends exactly at the table's faces stands for the fitting; its own radius is beside it.
        arc_radius_mm = center_to_end_mm / tan(radians(turn.turn_deg / 2.0))
        part = Part(
            kind="elbow",
            length_mm=arc_radius_mm * radians(turn.turn_deg),
            made_from=kind,
            turn_deg=turn.turn_deg,
            bend_radius_mm=row.bend_radius_mm,
            center_to_end_mm=center_to_end_mm,
        )
        return Made(
            take_off_mm=center_to_end_mm,
            leg_gap_mm=turn.gap_mm,
            welds=2,
            parts=(part,),
            findings=old_stock(turn.pipe.nps),
        )

    def words(self, choice: BendChoice) -> str:
        """Name the choice."""
        return f"whole {WORDS[choice.radius]} elbow"

    def candidates(self, choice: BendChoice) -> tuple[BendChoice, ...]:
        """Return the long and the short radius."""
        return (replace(choice, kind=self.code, radius="long"), replace(choice, kind=self.code, radius="short"))


def _other_turn(turn_deg: float, nearest: float) -> Finding:
    return error(
        "not_a_whole_turn",
        f"The turn is {turn_deg:.10g} degrees and a whole elbow turns 45 or 90 only ({nearest:.0f} is "
        f"{abs(turn_deg - nearest):.3g} off): trim an elbow, or ask whether the joints can take the difference.",
        Figure("turn", turn_deg, "deg"),
        Figure("nearest_whole_turn", nearest, "deg"),
    )
