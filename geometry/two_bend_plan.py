"""The two-bend spools that a shop can build between two ports, each with the make-up of both its turns."""

from dataclasses import dataclass
from math import radians, tan

from geometry.bends import BendChoice, Made, Turn, make_up
from geometry.bends.miter import effective_radius_mm
from geometry.bends.whole_elbow import WHOLE_TURNS_DEG
from geometry.findings import has_errors
from geometry.room import SHORTEST_PIPE_MM
from geometry.spool import BuildRequest, ChainRequest
from geometry.stretches import end_effect
from geometry.two_bend import Port, TwoBend
from geometry.two_bend_choice import NoTwoBend, TwoBendLimits, is_whole, two_bend_choices

WHOLE = BendChoice("whole_elbow")


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoBendPlan:
    """One way to join two ports: the center line and the make-up of its first and its second turn."""

    line: TwoBend
    bends: tuple[BendChoice, BendChoice]

    def request_on(self, asked: BuildRequest) -> ChainRequest:
        """Return what to build, on the pipe and ends of another request."""
        return ChainRequest(**asked.shared(), line=self.line.line, bends=self.bends)


def two_bend_plans(
    asked: BuildRequest, a: Port, b: Port, *, bends: tuple[BendChoice, BendChoice], whole_too: bool
) -> tuple[TwoBendPlan, ...]:
    """Return the plans between two ports: with two whole elbows first, then the one whose turns are free.

    Args: pipe, ends and gaps of ``asked``; the ports in mm; ``bends``, the make-ups of both turns (two whole elbows:
    only those); ``whole_too`` lets whole elbows stand in for what was asked.
    Raises: NoTwoBend where nothing fits.

    >>> from geometry.ends import EndChoice
    >>> from geometry.tables import pipe
    >>> end = EndChoice("beveled", "pipe_end")
    >>> asked = BuildRequest(pipe=pipe("6", "40"), end_a=end, end_b=end, root_gap_mm=2.4)
    >>> one, other = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((1500.0, 500.0, 200.0), (-1.0, 0.0, 0.0))
    >>> plans = two_bend_plans(asked, one, other, bends=(BendChoice(), BendChoice()), whole_too=True)
    >>> [(plan.bends[0].kind, round(plan.line.turn_1_deg, 1)) for plan in plans][0]
    ('whole_elbow', 45.0)
    """
    only_whole = bends == (WHOLE, WHOLE)
    limits = limits_of(asked, bends, whole=whole_too)
    plans = tuple(
        TwoBendPlan(line=line, bends=(WHOLE, WHOLE) if is_whole(line, limits) else bends)
        for line in two_bend_choices(a, b, limits)
        if not only_whole or is_whole(line, limits)
    )
    if not plans:
        raise NoTwoBend("No two whole elbows join these ports: trim them, or leave the make-up free.")
    return plans


def limits_of(asked: BuildRequest, bends: tuple[BendChoice, BendChoice], *, whole: bool) -> TwoBendLimits:
    """Return what the shop can make with these make-ups and ends, whole elbows too where it may choose."""
    effects = [end_effect(end, pipe=asked.pipe, root_gap_mm=asked.root_gap_mm) for end in (asked.end_a, asked.end_b)]
    outer_mm = max(max(effect.minimum_straight_mm, SHORTEST_PIPE_MM) + effect.deduction_mm for effect in effects)
    return TwoBendLimits(
        radius_mm=_radius_mm(asked, bends[0]),
        second_radius_mm=_radius_mm(asked, bends[1]),
        least_outer_mm=outer_mm + asked.root_gap_mm,
        least_middle_mm=SHORTEST_PIPE_MM + 2.0 * asked.root_gap_mm,
        whole_take_offs_mm=_whole_take_offs_mm(asked) if whole or bends == (WHOLE, WHOLE) else (),
    )


def _whole_take_offs_mm(asked: BuildRequest) -> tuple[tuple[float, float], ...]:
    """Return turn and center-to-end of the whole long radius elbows that come in this size."""
    made = [(turn_deg, _made(asked, WHOLE, turn_deg)) for turn_deg in WHOLE_TURNS_DEG]
    return tuple((turn_deg, one.take_off_mm) for turn_deg, one in made if not has_errors(one.findings))


def _radius_mm(asked: BuildRequest, bend: BendChoice) -> float:
    """Return the radius R for which R tan(turn / 2) is room enough for a make-up at any turn.

    A miter of several welds, its throat counted, stays inside its own radius; one weld inside half the OD.
    """
    if bend.kind == "miter":
        return max(effective_radius_mm(_turn(asked, bend, 45.0)), asked.pipe.od_mm / 2.0)
    made = _made(asked, BendChoice() if bend.kind == "whole_elbow" else bend, 45.0)
    if not made.take_off_mm:
        made = _made(asked, BendChoice(), 45.0)
    return made.take_off_mm / tan(radians(22.5))


def _made(asked: BuildRequest, bend: BendChoice, turn_deg: float) -> Made:
    return make_up(bend.kind).make(_turn(asked, bend, turn_deg))


def _turn(asked: BuildRequest, bend: BendChoice, turn_deg: float) -> Turn:
    return Turn(pipe=asked.pipe, turn_deg=turn_deg, choice=bend, gap_mm=asked.root_gap_mm, kerf_mm=asked.kerf_mm)
