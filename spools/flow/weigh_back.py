"""What a truck scale can and can't tell: computed black and zinc weight against what was weighed, with its limit.

Weights in kg. The scale's error and the scatter of pipe and zinc are standard deviations; every verdict names them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erf, sqrt
from statistics import NormalDist

USUAL_OVER_MINIMUM = 1.4
"""A usual coat over the standard's minimum. Common practice, no source."""

LOAD_ZINC_SCATTER = 0.20
"""How much one load's coats differ together from the usual: bath, steel, time in it. Common practice, no source."""

PIECE_ZINC_SCATTER = 0.15
"""How much one piece's coat differs from its load's. Common practice, no source."""

PIPE_SCATTER = 0.025
"""How much one piece's black weight differs from the computed one: pipe is rolled a little heavier or lighter than its
nominal wall. The standard allows 10 percent at most (ASTM A53, from memory). Common practice, no source."""

FALSE_ALARM = 0.05
"""One weighing in twenty says that something is off although nothing is: chosen, and printed."""

SURE = 0.90
"""What counts as found: nine times in ten."""

_Z_ALARM = NormalDist().inv_cdf(1 - FALSE_ALARM)
_Z_SURE = NormalDist().inv_cdf(SURE)


@dataclass(frozen=True, slots=True)
class Weighed:
    """One piece: its computed black weight and the least zinc that the standard asks on it."""

    black_kg: float
    zinc_least_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """The answer: what should have been weighed, what was, how far apart for the scatter there is, and the limit.

    ``finds_from_kg`` is the least loss that nine weighings in ten would show; ``chance`` how often the loss of one
    piece of average weight would show; ``scale_needed_kg`` the scale error at which it would show nine times in ten
    (0: no scale is good enough, the zinc itself scatters more).
    """

    expected_kg: float
    net_kg: float
    sigma_kg: float
    average_kg: float
    finds_from_kg: float
    chance: float
    scale_needed_kg: float
    zinc_factor: float | None = None

    @property
    def off_kg(self) -> float:
        """What was weighed less what was expected."""
        return self.net_kg - self.expected_kg

    @property
    def verdict(self) -> str:
        """``light``, ``heavy`` or ``agrees``."""
        if self.off_kg < -_Z_ALARM * self.sigma_kg:
            return "light"
        return "heavy" if self.off_kg > _Z_ALARM * self.sigma_kg else "agrees"

    @property
    def pieces_short(self) -> float:
        """How many pieces of average weight the difference stands for; 0 where it isn't light."""
        return -self.off_kg / self.average_kg if self.verdict == "light" and self.average_kg > 0 else 0.0


def check_out(pieces: Sequence[Weighed], *, net_kg: float, scale_kg: float) -> Check:
    """Compare what went out black with its computed weight.

    ``scale_kg`` is the error of one reading; a net weight is two. Raises ValueError without pieces or for bad figures.
    """
    _must_be_good(pieces, net_kg, scale_kg)
    expected = sum(piece.black_kg for piece in pieces)
    rest = (PIPE_SCATTER * expected) ** 2  # one heat of pipe runs all one way, so its scatter doesn't average out
    return _answer(pieces, expected_kg=expected, net_kg=net_kg, rest=rest, readings=2, scale_kg=scale_kg)


def check_back(
    out: Sequence[Weighed], back: Sequence[Weighed], *, out_kg: float | None, net_kg: float, scale_kg: float
) -> Check:
    """Compare what came back with zinc with what the count says came back.

    ``out`` is all that was on the truck as ``out_kg`` was weighed, ``back`` what was counted back. The weight out takes
    the pipe's own scatter away; without it the computed black weight must do. Raises ValueError as ``check_out``.
    """
    _must_be_good(back, net_kg, scale_kg)
    black = sum(piece.black_kg for piece in back)
    zinc = USUAL_OVER_MINIMUM * sum(piece.zinc_least_kg for piece in back)
    each = sum((PIECE_ZINC_SCATTER * USUAL_OVER_MINIMUM * piece.zinc_least_kg) ** 2 for piece in back)
    rest = (LOAD_ZINC_SCATTER * zinc) ** 2 + each
    readings = 2.0
    if out_kg is not None and out:
        _must_be_good(out, out_kg, scale_kg)
        part = black / sum(piece.black_kg for piece in out)
        black = out_kg * part
        readings += 2 * part**2
        rest += max(0.0, 1 - part) * sum((PIPE_SCATTER * piece.black_kg) ** 2 for piece in back)
    else:
        rest += (PIPE_SCATTER * black) ** 2
    least = zinc / USUAL_OVER_MINIMUM
    factor = (net_kg - black) / least if least > 0 else None
    return _answer(
        back, expected_kg=black + zinc, net_kg=net_kg, rest=rest, readings=readings, scale_kg=scale_kg, factor=factor
    )


def _answer(
    pieces: Sequence[Weighed],
    *,
    expected_kg: float,
    net_kg: float,
    rest: float,
    readings: float,
    scale_kg: float,
    factor: float | None = None,
) -> Check:
    sigma = sqrt(rest + readings * scale_kg**2)
    average = expected_kg / len(pieces)
    allowed = (average / (_Z_ALARM + _Z_SURE)) ** 2 - rest
    return Check(
        expected_kg=expected_kg,
        net_kg=net_kg,
        sigma_kg=sigma,
        average_kg=average,
        finds_from_kg=(_Z_ALARM + _Z_SURE) * sigma,
        chance=chance_seen(average, sigma_kg=sigma),
        scale_needed_kg=sqrt(allowed / readings) if allowed > 0 else 0.0,
        zinc_factor=factor,
    )


def chance_seen(loss_kg: float, *, sigma_kg: float) -> float:
    """Return how often a loss shows as light. Source: the normal distribution's tail.

    >>> round(chance_seen(0.0, sigma_kg=1.0), 3)
    0.05
    """
    if sigma_kg <= 0:
        return 1.0 if loss_kg > 0 else FALSE_ALARM
    return 0.5 * (1 + erf((loss_kg / sigma_kg - _Z_ALARM) / sqrt(2)))


def _must_be_good(pieces: Sequence[Weighed], net_kg: float, scale_kg: float) -> None:
    if not pieces:
        raise ValueError("Count first: there is nothing on the truck to compare the weight with.")
    if not (net_kg > 0 and scale_kg >= 0):
        raise ValueError("Type the net weight above zero, and the scale's error as zero or more.")
