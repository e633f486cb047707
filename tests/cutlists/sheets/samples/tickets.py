"""Made-up cut tickets."""

from random import Random

from cutlists.sheets.ticket_values import NamedLength, Ticket
from tests.cutlists.sheets.samples.parts import CAUTIONS, ENDS, ODD_MARKS, PIPES, code, heading, sketch


def ticket(seed: int, *, units: str = "us", plain: bool = False) -> Ticket:
    """Return one ticket; ``plain`` keeps to everyday marks."""
    rng = Random(seed)
    nps, schedule, wall = PIPES[seed % len(PIPES)]
    odd = not plain and rng.random() < 0.4
    elbow = rng.random() < 0.15
    return Ticket(
        heading=heading(rng, units=units, revision=rng.choice("ABCDE")),
        mark=rng.choice(ODD_MARKS) if odd else str(rng.randint(1, 999)),
        piece="E" if elbow else rng.choice(("A", "B", "P1", "M12" if odd else "A")),
        piece_number=rng.randint(1, 3),
        piece_count=3,
        kind="elbow" if elbow else "pipe",
        kind_words="trimmed from LR90" if elbow else "pipe, main side leg",
        length_mm=rng.choice((rng.uniform(60, 300), rng.uniform(300, 1500), rng.uniform(1500, 6300))),
        length_label="center arc" if elbow else "cut length",
        end_1=rng.choice(ENDS),
        end_2=rng.choice(ENDS),
        nps=nps,
        schedule=schedule,
        wall_mm=wall,
        code=code(seed),
        material=rng.choice(("A53 B", "A106 B", "", "A312 TP316L welded, customer's own stock" if odd else "A53 B")),
        heat=rng.choice(("", "", "K88213", "HT-2026-004417-B, rack 7" if odd else "")),
        bar=str(rng.randint(1, 40)),
        position=str(rng.randint(1, 9)),
        tape_mm=rng.choice((None, rng.uniform(100, 6300))),
        bench=rng.choice(("3", "Bench 12, big saw" if odd else "1")),
        due="Thu Nov 26, 10:40",
        operations=("cut", "groove end 1", "bevel end 2")[: rng.randint(1, 3)]
        + (("shape saddle by wrap", "trim") if odd else ()),
        marks=(NamedLength("throat", 79.4), NamedLength("center", 151.2), NamedLength("heel", 222.9)) if elbow else (),
        sketch=sketch(rng),
        cautions=tuple(rng.sample(CAUTIONS, rng.randint(0, 5 if odd else 2))),
    )
