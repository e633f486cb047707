"""Made-up tags of drops."""

from random import Random

from cutlists.sheets.drop_tag import DropTag, DropTagSheet
from tests.cutlists.sheets.samples.parts import PIPES, code, heading


def drop_tags(seed: int, *, units: str = "us") -> DropTagSheet:
    """Return one tag, or several sheets of them."""
    rng = Random(seed)
    count = rng.choice((1, 1, 3, 8, 9, 20))
    return DropTagSheet(heading=heading(rng, units=units), tags=tuple(_tag(rng, number) for number in range(count)))


def _tag(rng: Random, number: int) -> DropTag:
    nps, schedule, wall_mm = rng.choice(PIPES)
    return DropTag(
        number=rng.choice((f"D{number:04d}", f"D{10**8 + number}")),
        nps=nps,
        schedule=schedule,
        material=rng.choice(("A53 B", "A106 B seamless, killed, normalized")),
        wall_mm=wall_mm,
        length_mm=rng.uniform(150.0, 12_000.0),
        heat=rng.choice(("", "7K2214", "LONG-HEAT-NUMBER-00417-B")),
        rack=rng.choice(("", "R3", "EAST-UPPER-4")),
        came_from=rng.choice(("", f"B{number:04d}")),
        code=code(number),
    )
