"""End preparations: one class each, in one tuple."""

from geometry.ends.base import MEASURED_TO, REFERENCE_WORDS, EndChoice, EndEffect, EndPrep, OnMain
from geometry.ends.beveled import Beveled
from geometry.ends.flanged import FlangedSlipOn, FlangedWeldNeck
from geometry.ends.grooved import Grooved
from geometry.ends.plain import Plain
from geometry.ends.saddle import SaddleEnd
from geometry.ends.threaded import Threaded

END_PREPS: tuple[EndPrep, ...] = (
    Plain(),
    Beveled(),
    Grooved(),
    FlangedSlipOn(),
    FlangedWeldNeck(),
    Threaded(),
    SaddleEnd(),
)

__all__ = [
    "END_PREPS",
    "MEASURED_TO",
    "REFERENCE_WORDS",
    "EndChoice",
    "EndEffect",
    "EndPrep",
    "OnMain",
    "UnknownEnd",
    "end_prep",
]


class UnknownEnd(ValueError):
    """An end preparation that the shop doesn't know; the message names those it does."""


def end_prep(code: str) -> EndPrep:
    """Return the end preparation of that code.

    >>> end_prep("grooved").operations
    ('cut', 'grooved')

    Raises UnknownEnd, which names the preparations there are.
    """
    for prep in END_PREPS:
        if prep.code == code:
            return prep
    raise UnknownEnd(f'No end preparation "{code}": choose {", ".join(prep.code for prep in END_PREPS)}.')
