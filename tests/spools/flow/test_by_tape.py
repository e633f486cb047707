"""A spool without its tag is found by tape, also with a tape's own errors."""

from math import cos, radians, sqrt
from random import Random

import pytest

from spools.flow.by_tape import CHECK_SIGMA_MM, LEG_SIGMA_MM, NEAREST, Taped, nearest


def yard(random: Random, count: int) -> list[Taped]:
    """Spools as a gallery job has them: legs of 11 to 57 in, turns of 12 to 71 degrees, four of five in NPS 6."""
    found = []
    for number in range(count):
        a, b = random.uniform(280, 1450), random.uniform(280, 1450)
        c = sqrt(a * a + b * b - 2 * a * b * cos(radians(180 - random.uniform(12, 71))))
        nps = "6" if random.random() < 0.8 else "8"
        found.append(Taped(spool=number, nps=nps, longer_leg_mm=max(a, b), check_mm=c))
    return found


@pytest.mark.parametrize(("count", "least"), [(31, 0.999), (248, 0.995)])
def test_the_right_spool_is_among_the_first_three_for_nearly_every_noisy_taping(count: int, least: float) -> None:
    random = Random(5)
    hits = tries = 0
    for _ in range(1240 // count):
        there = yard(random, count)
        for one in there:
            leg, check = random.gauss(one.longer_leg_mm, LEG_SIGMA_MM), random.gauss(one.check_mm, CHECK_SIGMA_MM)
            matches = nearest(there, nps=one.nps, longer_leg_mm=leg, check_mm=check)
            hits += one.spool in [match.spool for match in matches[:3]]
            tries += 1
    assert hits / tries >= least


def test_at_most_seven_are_named_and_none_of_another_size() -> None:
    there = yard(Random(1), 60)
    matches = nearest(there, nps="8", longer_leg_mm=900.0, check_mm=1400.0)
    sizes = {one.spool: one.nps for one in there}
    assert len(matches) == NEAREST
    assert {sizes[match.spool] for match in matches} == {"8"}


def test_the_offs_are_what_was_taped_less_what_is_stored() -> None:
    (match,) = nearest(
        [Taped(spool=4, nps="6", longer_leg_mm=800.0, check_mm=1200.0)], nps="6", longer_leg_mm=806.0, check_mm=1196.0
    )
    assert (match.leg_off_mm, match.check_off_mm) == (6.0, -4.0)
