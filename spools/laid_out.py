"""A center line of two bends, as survey shots gave it: kept with its reading, said in words."""

from dataclasses import dataclass, field
from typing import Any

from cattrs import Converter

from geometry.bends import BendChoice, make_up
from geometry.centerline import CenterlineRequest
from geometry.drawing.figures import degrees_text
from geometry.findings import Finding, warning
from geometry.two_bend_plan import TwoBendPlan
from spools.say_lengths import say_length

_converter = Converter()
CODE = "two_bends"
SAID_DEG = 0.125  # a roll is said to a quarter of a degree


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Legs, turns and twist from end A to end B, and the make-up of each turn."""

    line: CenterlineRequest
    bends: tuple[BendChoice, ...] = field(default=())

    def as_stored(self) -> dict[str, Any]:
        """Return plain values for a JSON column."""
        plain: dict[str, Any] = _converter.unstructure(self)
        return plain

    @property
    def middle_mm(self) -> float:
        """The leg between the bends, from center to center."""
        return self.line.legs_mm[1]

    @property
    def twist_deg(self) -> float:
        """How far the second bend is rolled about the middle leg, right-hand along the flow from end A."""
        return self.line.twists_deg[0]


def laid_out(plan: TwoBendPlan) -> LaidOut:
    """Return a plan as it is kept."""
    return LaidOut(plan.line.line, plan.bends)


def read_laid_out(value: dict[str, Any] | None) -> LaidOut | None:
    """Return what ``as_stored`` wrote; None where a reading is of one bend."""
    return None if value is None else _converter.structure(value, LaidOut)


def say_turns(line: LaidOut) -> str:
    """Return both turns and the roll in words.

    >>> bend = BendChoice()
    >>> say_turns(LaidOut(CenterlineRequest((300.0, 200.0, 300.0), (45.0, 30.5), (-20.0,)), (bend, bend)))
    'turns 45° and 30.5°, the second rolled 20° counter-clockwise, seen from end A'
    """
    return f"{say_both_turns(line)}, {say_roll(line.twist_deg)}"


def say_both_turns(line: LaidOut) -> str:
    """Return both turns without the roll."""
    first, second = line.line.turns_deg
    return f"turns {degrees_text(first)} and {degrees_text(second)}"


def say_roll(twist_deg: float) -> str:
    """Return how the second bend lies to the first.

    >>> say_roll(0.0), say_roll(180.0)
    ('the second the same way as the first', 'the second straight against the first')
    """
    if abs(twist_deg) < SAID_DEG:
        return "the second the same way as the first"
    if abs(abs(twist_deg) - 180.0) < SAID_DEG:
        return "the second straight against the first"
    way = "clockwise" if twist_deg > 0.0 else "counter-clockwise"
    return f"the second rolled {degrees_text(abs(twist_deg))} {way}, seen from end A"


def say_made(line: LaidOut) -> str:
    """Return the make-ups of both turns in words, once where they are alike."""
    words = [make_up(bend.kind).words(bend) for bend in line.bends]
    return words[0] if len(set(words)) == 1 else ", then ".join(words)


def two_bends_finding(line: LaidOut, units: str) -> Finding:
    """Return what the foreman is told of a reading with two bends."""
    middle = say_length(line.middle_mm, units)
    text = f"Two bends, laid out from survey shots: {say_turns(line)}; {middle} between their centers."
    return warning(CODE, text)
