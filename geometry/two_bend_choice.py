"""The two-bend spool to build where the turns are free: gentle, short, and with room for its fittings."""

from dataclasses import dataclass
from math import acos, cos, degrees, pi, radians, sin, sqrt, tan

from geometry.centerline import distance_mm, moved
from geometry.two_bend import Port, TwoBend, spool_through, two_bends_with_turns
from geometry.vectors import apart, dotted, length_of

STARTS = 6
GRID = 16
DIRECTIONS = tuple((cos(2 * pi * k / 16), sin(2 * pi * k / 16)) for k in range(16))
LENGTH_WEIGHT = 20.0  # a spool as much longer as the ports are apart costs as much as 20 degrees (practice, no source)
MARGIN_MM = 0.01  # the search keeps this much more room than is asked for
MILD, STRICT, ROOM_ONLY = 300.0, 3e4, 1e9  # cost of lacking room, degrees per distance between the ports
# A strict cost alone walls the search into a corner, a mild one may end without room: the later stages only mend that.
STAGES = ((MILD, STRICT), (STRICT, STRICT), (ROOM_ONLY, STRICT))


class NoTwoBend(ValueError):
    """No two-bend spool within the limits; the message says what stands in the way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoBendLimits:
    """What the shop can make: bend radius, straight pipe beside the bends, turns.

    ``radius_mm`` is that of the bends whose turn is free, ``second_radius_mm`` that of the second where it is another:
    they take off R tan(turn / 2). ``whole_take_offs_mm`` are the whole fittings at hand, each as its turn in degrees
    and its center-to-end in mm, the table's own: a whole 45 is not R tan 22.5. ``least_outer_mm`` of straight pipe from
    each port to its bend (groover, weld), ``least_middle_mm`` between the bends (0: fitting to fitting). A turn of 3 or
    less isn't made as a bend (B31.3 304.2.3, from memory).
    """

    radius_mm: float
    least_outer_mm: float
    second_radius_mm: float | None = None
    whole_take_offs_mm: tuple[tuple[float, float], ...] = ()
    least_middle_mm: float = 0.0
    least_turn_deg: float = 3.0
    largest_turn_deg: float = 90.0

    @property
    def radii_mm(self) -> tuple[float, float]:
        """The radius of the first and of the second bend."""
        return self.radius_mm, self.radius_mm if self.second_radius_mm is None else self.second_radius_mm


def two_bend_choices(a: Port, b: Port, limits: TwoBendLimits) -> tuple[TwoBend, ...]:
    """Return the two-bend spools that can be built: with two whole fittings first, then the free one.

    Args: ports in mm; what the shop can make.
    Raises: NoTwoBend where nothing fits within the limits.

    >>> limits = TwoBendLimits(radius_mm=152.4, least_outer_mm=100.0, whole_take_offs_mm=((45.0, 63.5), (90.0, 152.4)))
    >>> one = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    >>> other = Port((2000.0, 355.6, 241.3), (-1.0, 0.0, 0.0))
    >>> rolling_offset = two_bend_choices(one, other, limits)[0]
    >>> round(rolling_offset.turn_1_deg, 6), round(rolling_offset.middle_mm / 25.4, 3), is_whole(rolling_offset, limits)
    (45.0, 23.927, True)
    """
    whole = [
        made
        for first, take_first in limits.whole_take_offs_mm
        for second, take_second in limits.whole_take_offs_mm
        for made in two_bends_with_turns(
            a,
            b,
            turn_1_deg=first,
            turn_2_deg=second,
            least_leg_mm=limits.least_outer_mm + max(take_first, take_second),
        )
        if lacks_mm(made, limits, take_offs_mm=(take_first, take_second)) == 0.0
    ]
    whole.sort(key=lambda made: made.leg_a_mm + made.middle_mm + made.leg_b_mm)
    try:
        return (*whole, free_two_bend(a, b, limits))
    except NoTwoBend:
        if whole:
            return tuple(whole)
        raise


def free_two_bend(a: Port, b: Port, limits: TwoBendLimits) -> TwoBend:
    """Return the gentlest short two-bend spool between two ports, its turns free.

    The outer legs are the two unknowns: a grid, then a compass search from its best places, with what lacks room made
    costly. The result is walked from port A and compared with port B.
    Raises NoTwoBend where the best still lacks room: it says how much, and where to look.

    >>> one = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    >>> other = Port((900.0, 500.0, 60.0), (0.0, -1.0, 0.0))
    >>> made = free_two_bend(one, other, TwoBendLimits(radius_mm=152.4, least_outer_mm=100.0))
    >>> made.off_mm < 1e-6, round(made.turn_1_deg + made.turn_2_deg, 1)
    (True, 90.4)
    """
    cost = _Cost(a, b, limits)
    reach = cost.apart_mm + 4.0 * (max(limits.radii_mm) + limits.least_outer_mm)
    starts = _starts(cost, reach)
    lacks, made = cost.apart_mm, None
    for stages in STAGES:
        best = min((_downhill(cost, start, reach, stages) for start in starts), key=lambda legs: cost.of(*legs))
        made = spool_through(a, b, moved(a.point, a.along, best[0]), moved(b.point, b.along, best[1]))
        lacks = lacks_mm(made, limits) if made is not None else cost.apart_mm
        if lacks == 0.0:
            break
    if made is None or lacks > 0.0:
        raise NoTwoBend(
            f"No two-bend spool fits between these ports: {lacks / 25.4:.1f} in are missing for bends of this radius. "
            "Take a shorter radius or a miter, or move a port back."
        )
    return made


def is_whole(made: TwoBend, limits: TwoBendLimits) -> bool:
    """Tell whether both bends of a spool are whole fittings at hand."""
    turns = (made.turn_1_deg, made.turn_2_deg)
    return all(any(abs(turn - whole) < 1e-6 for whole, _ in limits.whole_take_offs_mm) for turn in turns)


def lacks_mm(made: TwoBend, limits: TwoBendLimits, *, take_offs_mm: tuple[float, float] | None = None) -> float:
    """Return how much room a spool lacks, mm; what its turns lack or exceed counts at the bend's radius.

    ``take_offs_mm`` are those of whole fittings; without them both bends take off R tan(turn / 2).
    """
    turns, radii = (made.turn_1_deg, made.turn_2_deg), limits.radii_mm
    first, second = take_offs_mm or (
        radius * tan(radians(turn) / 2.0) for radius, turn in zip(radii, turns, strict=True)
    )
    short = max(first + limits.least_outer_mm - made.leg_a_mm, 0.0)
    short += max(second + limits.least_outer_mm - made.leg_b_mm, 0.0)
    short += max(first + second + limits.least_middle_mm - made.middle_mm, 0.0)
    for radius, turn in zip(radii, turns, strict=True):
        off = max(limits.least_turn_deg - turn, turn - limits.largest_turn_deg - 1e-9, 0.0)
        short += radius * radians(off)
    return short


class _Cost:
    """What a choice of the two outer legs costs, in degrees of turn; all vectors boiled down to five numbers."""

    def __init__(self, a: Port, b: Port, limits: TwoBendLimits) -> None:
        across = apart(a.point, b.point)
        self.apart_mm = max(distance_mm(a.point, b.point), *limits.radii_mm)
        self.squared = length_of(across) ** 2
        self.at_a, self.at_b = dotted(across, a.along), dotted(across, b.along)
        self.between = dotted(a.along, b.along)
        self.limits, self.radii = limits, limits.radii_mm
        self.tightness = STRICT

    def of(self, leg_a: float, leg_b: float) -> float:
        """Return total turn, plus length, plus what lacks room, for outer legs in mm."""
        toward_a = self.at_a + leg_b * self.between - leg_a
        toward_b = -(self.at_b + leg_b - leg_a * self.between)
        middle = self.squared + leg_a * (leg_a - 2.0 * self.at_a) + leg_b * (leg_b + 2.0 * self.at_b)
        middle = sqrt(max(middle - 2.0 * leg_a * leg_b * self.between, 1e-12))
        first, second = (acos(min(max(toward / middle, -1.0), 1.0)) for toward in (toward_a, toward_b))
        length = leg_a + middle + leg_b
        return (
            degrees(first + second)
            + (LENGTH_WEIGHT * length + self.tightness * self._lacks(leg_a, leg_b, middle, (first, second)))
            / self.apart_mm
        )

    def _lacks(self, leg_a: float, leg_b: float, middle: float, turns: tuple[float, float]) -> float:
        limits = self.limits
        first, second = self.radii[0] * tan(min(turns[0], 3.0) / 2.0), self.radii[1] * tan(min(turns[1], 3.0) / 2.0)
        short = max(first + limits.least_outer_mm + MARGIN_MM - leg_a, 0.0)
        short += max(second + limits.least_outer_mm + MARGIN_MM - leg_b, 0.0)
        short += max(first + second + limits.least_middle_mm + MARGIN_MM - middle, 0.0)
        least, largest = radians(limits.least_turn_deg) + 1e-5, radians(limits.largest_turn_deg) - 1e-5
        for radius, turn in zip(self.radii, turns, strict=True):
            short += radius * max(least - turn, turn - largest, 0.0)
        return short


def _starts(cost: _Cost, reach: float) -> list[tuple[float, float]]:
    """Return the best places of a grid, no two of them neighbors; the grid is finer where the legs are short."""
    sides = [reach * ((place + 0.5) / GRID) ** 1.5 for place in range(GRID)]
    cost.tightness = MILD
    places = sorted((cost.of(sides[i], sides[j]), i, j) for i in range(GRID) for j in range(GRID))
    chosen: list[tuple[int, int]] = []
    for _, i, j in places:
        if all(max(abs(i - k), abs(j - m)) > 1 for k, m in chosen):
            chosen.append((i, j))
        if len(chosen) == STARTS:
            break
    return [(sides[i], sides[j]) for i, j in chosen]


def _downhill(cost: _Cost, start: tuple[float, float], reach: float, stages: tuple[float, ...]) -> tuple[float, float]:
    """Search stage by stage, each with its own cost of lacking room."""
    here, step = start, reach / GRID
    for tightness in stages:
        cost.tightness = tightness
        finest = 1e-3 if tightness == stages[-1] else 0.5
        here, step = _compass(cost, here, step, finest), reach / (4.0 * GRID)
    return here


def _compass(cost: _Cost, start: tuple[float, float], step: float, finest: float) -> tuple[float, float]:
    """Walk downhill in sixteen directions, halving the step where none is better. Source: compass search."""
    here, now = start, cost.of(*start)
    while step > finest:
        tries = [(here[0] + step * x, here[1] + step * y) for x, y in DIRECTIONS]
        best, place = min((cost.of(*legs), legs) for legs in tries)
        if best < now - 1e-12:
            here, now = place, best
        else:
            step /= 2.0
    return here
