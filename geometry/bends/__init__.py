"""The make-ups of a bend, in order of preference."""

from geometry.bends.base import BendChoice, Made, MakeUp, Part, Turn
from geometry.bends.bent_pipe import BentPipe
from geometry.bends.miter import Miter
from geometry.bends.trimmed_elbow import TrimmedElbow
from geometry.bends.whole_elbow import WholeElbow

MAKE_UPS: tuple[MakeUp, ...] = (WholeElbow(), TrimmedElbow(), BentPipe(), Miter())
"""Stock fittings first, then what a shop can always cut, then what needs a bender or the line class's yes."""

__all__ = ["MAKE_UPS", "BendChoice", "Made", "MakeUp", "Part", "Turn", "UnknownMakeUp", "make_up"]


class UnknownMakeUp(ValueError):
    """No make-up of that code; the message names those there are."""


def make_up(code: str) -> MakeUp:
    """Return the make-up of that code.

    >>> make_up("miter").word
    'miter'

    Raises:
        UnknownMakeUp: for any other code, naming those there are.

    """
    for known in MAKE_UPS:
        if known.code == code:
            return known
    codes = ", ".join(known.code for known in MAKE_UPS)
    raise UnknownMakeUp(f'No make-up "{code[:40]}": choose one of {codes}.')
