"""What every make-up of a bend answers: take-off, parts, welds and marks, or why it can't be."""

from dataclasses import dataclass
from math import cos, pi, radians, sqrt
from typing import Literal, Protocol

from geometry.centerline import Step
from geometry.findings import Figure, Finding, warning
from geometry.pieces import Mark
from geometry.tables import PipeRow

Radius = Literal["long", "short"]

TURN_SLACK_DEG = 1e-6
"""180 - 89.9999999 is 90.0000001: the arithmetic of a reading, not a turn that a 90 can't give. 90.25 is refused."""

NOT_A_MITER_DEG = 3.0
"""A turn of 3 degrees or less isn't counted as a miter. Source: ASME B31.3 304.2.3, from memory."""


@dataclass(frozen=True, slots=True)
class BendChoice:
    """How one turn is to be made.

    Args:
        kind: ``trimmed_elbow``, ``whole_elbow``, ``miter`` or ``bent_pipe``.
        radius: radius of the elbow, or of the arc that a miter of two and more welds follows.
        welds: welds of a miter, 1 to 5.
        bend_radius_mm: radius of bent pipe (required there), or of a miter instead of the elbow's.
        source: what a trimmed elbow is cut from, ``90`` or ``180``; None takes the 90 while it can do it.
        miters_allowed: the line class is known to allow miters.

    """

    kind: str = "trimmed_elbow"
    radius: Radius = "long"
    welds: int = 1
    bend_radius_mm: float | None = None
    source: Literal["90", "180"] | None = None
    miters_allowed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One turn to be made: the pipe, how far it turns, the choice, the root gap square to a weld, and the kerf."""

    pipe: PipeRow
    turn_deg: float
    choice: BendChoice
    gap_mm: float
    kerf_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece between the two legs: an elbow, or a middle piece of a miter.

    ``length_mm`` is on the center line; ``cut_angle_deg`` of both its ends, from square.
    """

    kind: Literal["elbow", "pipe"]
    length_mm: float
    cut_angle_deg: float = 0.0
    marks: tuple[Mark, ...] = ()
    made_from: str = ""
    turn_deg: float = 0.0
    bend_radius_mm: float = 0.0
    center_to_end_mm: float = 0.0
    trimmed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One turn made up, or refused by an error among its findings.

    ``take_off_mm`` runs from the PI to the face that the leg's pipe is welded to, on the center line.
    ``leg_gap_mm`` is what that pipe gives up at the weld, along its axis. ``cut_angle_deg`` is the cut of that pipe,
    from square. ``weld_turn_deg`` is the turn at each weld (a miter), 0 at a butt weld. ``arc`` joins the two legs to
    one piece (bent pipe) instead of welds. ``marks`` are the spool's marks of this bend. ``shortest_straight_mm`` is
    the pipe that the code wants left beside the bend, at the throat.
    """

    take_off_mm: float = 0.0
    leg_gap_mm: float = 0.0
    cut_angle_deg: float = 0.0
    weld_turn_deg: float = 0.0
    welds: int = 0
    parts: tuple[Part, ...] = ()
    arc: Step | None = None
    marks: tuple[Mark, ...] = ()
    left_over_deg: float = 0.0
    shortest_straight_mm: float = 0.0
    findings: tuple[Finding, ...] = ()


class MakeUp(Protocol):
    """One way to make a turn: a code for programs, words for people, and the deed itself.

    ``make`` answers in microseconds; ``words`` name a choice as a fitter would.
    """

    code: str
    word: str

    def make(self, turn: Turn) -> Made:
        """Return the turn made up, or a Made whose findings hold the error."""

    def words(self, choice: BendChoice) -> str:
        """Name the choice: ``trimmed long radius elbow``."""

    def candidates(self, choice: BendChoice) -> tuple[BendChoice, ...]:
        """Return the choices of this make-up worth proposing, given what was asked."""


def small_turn(turn_deg: float) -> tuple[Finding, ...]:
    """Return the warning on a turn so small that the joints may take it, else nothing."""
    if turn_deg > NOT_A_MITER_DEG:
        return ()
    text = f"A turn of {turn_deg:.3g} degrees needs no bend in many lines: ask whether straight pipe will do."
    return (warning("turn_under_3", text, Figure("turn", turn_deg, "deg")),)


def arc_marks(*, radius_mm: float, od_mm: float, turn_deg: float) -> tuple[Mark, ...]:
    """Return the arcs at throat, center and heel, laid on the elbow with the tape along each line, in mm.

    Source: arc length; T. Hamilton, Math To Build On, section Cutting Elbows, gives the same numbers.

    >>> [round(mark.value_mm, 4) for mark in arc_marks(radius_mm=3.0, od_mm=2.0, turn_deg=45.0)]
    [1.5708, 2.3562, 3.1416]
    """
    turn = radians(turn_deg)
    return (
        Mark("throat", (radius_mm - od_mm / 2.0) * turn),
        Mark("center", radius_mm * turn),
        Mark("heel", (radius_mm + od_mm / 2.0) * turn),
    )


def weld_length_mm(*, od_mm: float, cut_angle_rad: float = 0.0) -> float:
    """Return the length of one weld around a pipe: a circle, or the ellipse of a slanted cut.

    Source: Ramanujan's second approximation of the ellipse, good to 1e-7 up to 45 degrees from square.

    >>> round(weld_length_mm(od_mm=114.3), 1)
    359.1
    """
    small, large = od_mm / 2.0, od_mm / 2.0 / cos(cut_angle_rad)
    h = ((large - small) / (large + small)) ** 2
    return pi * (large + small) * (1.0 + 3.0 * h / (10.0 + sqrt(4.0 - 3.0 * h)))
