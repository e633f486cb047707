"""Spools for the drawings' tests: named ones, and random ones from 4 in to 20 ft and from 3 to 120 degrees."""

from random import Random

from geometry.bends import BendChoice
from geometry.build import SpoolRequest, build, build_chain
from geometry.centerline import CenterlineRequest
from geometry.drawing.description import SpoolDrawing
from geometry.drawing.from_build import spool_drawing
from geometry.ends import EndChoice
from geometry.lengths import MILLIMETER, SIXTEENTH, THIRTY_SECOND
from geometry.spool import ChainRequest
from geometry.tables import pipe

IN = 25.4
ENDS = {
    "plain": EndChoice("plain", "pipe_end"),
    "beveled": EndChoice("beveled", "pipe_end"),
    "grooved": EndChoice("grooved", "pipe_end", groover_straight_mm=20.0),
    "threaded": EndChoice("threaded", "pipe_end"),
    "slip-on": EndChoice("flanged_slip_on", "flange_face"),
    "weld-neck": EndChoice("flanged_weld_neck", "flange_face"),
}


def miter(welds: int) -> BendChoice:
    """Return a miter that the line class allows."""
    return BendChoice("miter", welds=welds, miters_allowed=True)


def tie_in(
    *,
    nps: str = "6",
    legs_in: tuple[float, float] = (36.125, 22.5625),
    included_deg: float = 127.5,
    bend: BendChoice | None = None,
    ends: tuple[str, str] = ("grooved", "beveled"),
    hand: str = "left",
    graduation=SIXTEENTH,
    mark: str = "214",
    schedule: str = "40",
) -> SpoolDrawing | None:
    """Return the drawing's description of a tie-in, or None where it can't be built."""
    request = SpoolRequest(
        pipe=pipe(nps, schedule),
        leg_a_mm=legs_in[0] * IN,
        leg_b_mm=legs_in[1] * IN,
        included_deg=included_deg,
        bend=bend or BendChoice(),
        end_a=ENDS[ends[0]],
        end_b=ENDS[ends[1]],
        root_gap_mm=2.38,
        graduation=graduation,
    )
    answer = build(request)
    return spool_drawing(request, answer, mark=mark, hand=hand) if answer.buildable else None


def chain(
    *,
    nps: str = "6",
    legs_in: tuple[float, ...] = (40.0, 30.0, 36.0),
    turns_deg: tuple[float, ...] = (45.0, 45.0),
    twists_deg: tuple[float, ...] = (180.0,),
    bends: tuple[BendChoice, ...] | None = None,
    ends: tuple[str, str] = ("grooved", "beveled"),
    hand: str = "left",
    graduation=SIXTEENTH,
) -> SpoolDrawing | None:
    """Return the drawing's description of a spool of several legs, or None where it can't be built."""
    request = ChainRequest(
        pipe=pipe(nps, "40"),
        line=CenterlineRequest(tuple(leg * IN for leg in legs_in), turns_deg, twists_deg),
        bends=bends or tuple(BendChoice() for _ in turns_deg),
        end_a=ENDS[ends[0]],
        end_b=ENDS[ends[1]],
        root_gap_mm=2.38,
        graduation=graduation,
    )
    answer = build_chain(request)
    return spool_drawing(request, answer, mark="88", hand=hand) if answer.buildable else None


def random_spools(count: int, seed: int = 20261125) -> list[SpoolDrawing]:
    """Return spools that can be built, every fourth with two bends."""
    random, found = Random(seed), []
    while len(found) < count:
        spool = _random_chain(random) if len(found) % 4 == 3 else _random_tie_in(random)
        if spool is not None:
            found.append(spool)
    return found


def _leg(random: Random) -> float:
    """Return 4 in to 20 ft, as many short legs as long ones."""
    return 4.0 * 60.0 ** random.random()


def _common(random: Random) -> dict:
    return {
        "nps": random.choice(["1-1/2", "2", "3", "4", "6", "8", "12"]),
        "ends": (random.choice(list(ENDS)), random.choice(list(ENDS))),
        "hand": random.choice(["", "left", "right", "up", "down"]),
        "graduation": random.choice([SIXTEENTH, THIRTY_SECOND, MILLIMETER]),
    }


def _random_bend(random: Random, turn_deg: float) -> BendChoice:
    choices = [BendChoice(), BendChoice(), BendChoice(radius="short"), miter(1), miter(2), miter(3), miter(4)]
    if turn_deg > 90:
        choices = [BendChoice(source="180"), miter(4), miter(3)]
    return random.choice(choices)


def _random_tie_in(random: Random) -> SpoolDrawing | None:
    turn_deg = random.choice([random.uniform(3, 120), random.uniform(3, 15), random.uniform(90, 120)])
    return tie_in(
        legs_in=(_leg(random), _leg(random)),
        included_deg=180.0 - turn_deg,
        bend=_random_bend(random, turn_deg),
        mark=random.choice(["7", "214", "266-B", "1088-A2"]),
        **_common(random),
    )


def _random_chain(random: Random) -> SpoolDrawing | None:
    turns = (random.uniform(5, 90), random.uniform(5, 90))
    return chain(
        legs_in=(_leg(random), _leg(random), _leg(random)),
        turns_deg=turns,
        twists_deg=(random.choice([0.0, 180.0, random.uniform(-180, 180)]),),
        bends=tuple(_random_bend(random, turn) for turn in turns),
        **_common(random),
    )
