"""The gallery as it was built: where each tie-in is, and the legs and turn that a perfect jig would find there."""

from dataclasses import dataclass
from functools import cache
from math import radians, tan

from cutlists.demo.chance import dice
from cutlists.demo.scenario import GALLERY_FT, LAST_WELDED, NPS_8, TIE_INS

FOOT_MM = 304.8
INCH_MM = 25.4
HANDS = ("left", "right", "right", "left", "up", "down")
# Long-radius elbow, and the straight pipe that the groover must have, in inches.
RADIUS = {"6": 9.0, "8": 12.0}
STRAIGHT_A, STRAIGHT_B = 4.0, 8.5
LEAST_LEG, LONGEST_LEG = 11.0, 57.0
LEAST_TURN, MIDDLE_TURN, MOST_TURN = 12.0, 38.0, 71.0


@dataclass(frozen=True, slots=True)
class Place:
    """One tie-in: true legs in inches from the PI, true turn in degrees."""

    number: int
    nps: str
    side: str
    station_ft: float
    leg_a_in: float
    leg_b_in: float
    turn_deg: float
    hand: str

    @property
    def mark(self) -> str:
        """The mark as it is painted: three digits."""
        return f"{self.number:03d}"


@cache
def gallery() -> dict[int, Place]:
    """Return every tie-in by its number: odd ones on the left, even ones on the right, in pairs along the main."""
    turns, legs_a, legs_b = _turns(), _spread("leg A", 11.0, 31.0, 57.0), _spread("leg B", 11.0, 20.5, 44.0)
    return {
        number: _place(number, turns[number - 1], legs_a[number - 1], legs_b[number - 1])
        for number in range(1, TIE_INS + 1)
    }


def _place(number: int, turn: float, leg_a: float, leg_b: float) -> Place:
    throw = dice("place", number)
    nps = "8" if (number * NPS_8) % TIE_INS < NPS_8 else "6"
    pair = (number - 1) // 2
    station = 13 + pair * (GALLERY_FT - 26) / (TIE_INS / 2 - 1) + throw.uniform(-1.5, 1.5)
    if number == LAST_WELDED:  # the typical one of the job
        turn, leg_a, leg_b = 53.0, 32.0, 21.5
    take_off = RADIUS[nps] * tan(radians(turn) / 2)
    return Place(
        number=number,
        nps=nps,
        side="left" if number % 2 else "right",
        station_ft=round(station * 4) / 4,
        leg_a_in=_sixteenth(max(leg_a, take_off + STRAIGHT_A)),
        leg_b_in=_sixteenth(max(leg_b, take_off + STRAIGHT_B)),
        turn_deg=turn,
        hand=throw.choice(HANDS),
    )


def _turns() -> list[float]:
    return [round(turn * 4) / 4 for turn in _spread("turn", LEAST_TURN, MIDDLE_TURN, MOST_TURN)]


def _spread(name: str, least: float, middle: float, most: float) -> list[float]:
    """Return one value for each tie-in, half of them on each side of the middle, thick near it, thin at the ends."""
    half = TIE_INS // 2
    below = [middle - (middle - least) * (place / (half - 1)) ** 1.6 for place in range(half)]
    above = [middle + (most - middle) * (place / (half - 1)) ** 1.6 for place in range(half)]
    values = below + above
    dice("spread", name).shuffle(values)
    return values


def _sixteenth(inches: float) -> float:
    return round(inches * 16) / 16
