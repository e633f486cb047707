"""Bent pipe: both legs and the arc between them are one piece."""

from dataclasses import replace
from math import radians, tan

from geometry.bends.base import BendChoice, Made, Turn, arc_marks, small_turn
from geometry.centerline import Step
from geometry.findings import Figure, Finding, error, warning
from geometry.lengths import format_length

TIGHT_BEND = 3.0
"""Radius below this many ODs thins the wall and flattens the pipe. Source: common practice, no source."""
GRIP = 1.0
"""Straight pipe that a bender grips beside the bend, in ODs. Source: common practice, no source."""


class BentPipe:
    """Pipe bent to a radius of its own: no weld, one developed length, a mark where the bend starts and ends."""

    code = "bent_pipe"
    word = "bent pipe"

    def make(self, turn: Turn) -> Made:
        """Bend the pipe, or say what is missing.

        Developed length = A + B - 2 R tan(d/2) + R d, less what the ends take. Source: tangent and length of an arc.
        """
        radius_mm = turn.choice.bend_radius_mm
        if radius_mm is None or radius_mm <= turn.pipe.od_mm / 2.0:
            return Made(findings=(_no_radius(turn),))
        return Made(
            take_off_mm=radius_mm * tan(radians(turn.turn_deg / 2.0)),
            arc=Step("arc", degrees=turn.turn_deg, radius_mm=radius_mm),
            marks=arc_marks(radius_mm=radius_mm, od_mm=turn.pipe.od_mm, turn_deg=turn.turn_deg),
            findings=_concerns(turn, radius_mm),
        )

    def words(self, choice: BendChoice) -> str:
        """Name the choice."""
        radius = f", radius {format_length(choice.bend_radius_mm)}" if choice.bend_radius_mm else ""
        return f"bent pipe{radius}"

    def candidates(self, choice: BendChoice) -> tuple[BendChoice, ...]:
        """Return bent pipe at the radius asked; without one it is refused, naming what to give."""
        return (replace(choice, kind=self.code),)


def _no_radius(turn: Turn) -> Finding:
    five_mm = 5.0 * turn.pipe.od_mm
    return error(
        "bend_radius_missing",
        "Bent pipe needs the radius of the bender's die, more than half the OD: give bend_radius "
        f"(five ODs is {format_length(five_mm)}).",
        Figure("five_od", five_mm, "mm"),
    )


def _concerns(turn: Turn, radius_mm: float) -> tuple[Finding, ...]:
    words = "Ask the bender for springback and for the straight pipe his clamp needs."
    ask = (*small_turn(turn.turn_deg), warning("bender_marks", words))
    if radius_mm >= TIGHT_BEND * turn.pipe.od_mm:
        return ask
    text = (
        f"A radius of {format_length(radius_mm)} is under three ODs: the wall thins and the pipe flattens; "
        "take a larger die or an elbow."
    )
    return (*ask, warning("bend_tight", text, Figure("bend_radius", radius_mm, "mm")))
