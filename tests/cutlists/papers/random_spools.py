"""Random real spools: typed readings that close, taken and released by the shop's own deeds."""

from dataclasses import replace
from math import cos, radians, sin, sqrt
from random import Random
from typing import Any

from geometry.lengths import MILLIMETER, SIXTEENTH, format_length, round_to
from spools.actions.lay_out import lay_out
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Job, Person, Reading, Shop, Spool
from spools.queries.lay_outs import ways_to_lay_out
from spools.solving import Typed
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, take
from tests.factories.surveys import bring

MAKE_UPS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("trimmed_elbow", {}),
    ("trimmed_elbow", {"radius": "short"}),
    ("miter", {"welds": 1, "miters_allowed": True}),
    ("miter", {"welds": 2, "miters_allowed": True}),
    ("miter", {"welds": 3, "miters_allowed": True}),
    ("bent_pipe", {"bend_radius_mm": 600.0}),
)
PIPES = (("2", "40"), ("3", "40"), ("4", "40"), ("6", "40"), ("8", "40"), ("6", "80"))


def foreman_of(shop: Shop) -> Person:
    """The shop's foreman."""
    return shop.people.filter(username="kellan").first() or make_person(shop, Role.FOREMAN, name="Kellan")


def two_jobs() -> tuple[Job, Job]:
    """One job in feet and inches, one in millimeters, in one shop."""
    shop = make_shop()
    return make_job(shop), make_job(shop, units="metric", graduation="1mm", root_gap_mm=2.5)


def random_spool(random: Random, job: Job, mark: str) -> Spool:
    """Take random readings of a new tie-in until one can be built."""
    kind, options = random.choice(MAKE_UPS)
    nps, schedule = random.choice(PIPES)
    tie_in = make_tie_in(
        job,
        mark,
        nps=nps,
        schedule=schedule,
        bend_kind=kind,
        bend_options=options,
        end_a=random.choice(("beveled", "plain", "grooved")),
        end_b=random.choice(("grooved", "beveled", "threaded" if nps in {"2", "3"} else "plain")),
    )
    for _ in range(60):
        try:
            taken = take(tie_in, _typed(random, job.units))
        except ShopError:
            continue
        if taken.spool:
            return taken.spool
        tie_in.refresh_from_db()
        if Reading.objects.filter(tie_in=tie_in).exists():
            tie_in = replace_tie_in(tie_in, f"{mark}x")
    raise AssertionError(f"No reading of {kind} in NPS {nps} could be built.")


def random_two_bend_spool(random: Random, job: Job, mark: str) -> Spool:
    """Shoot random ends of a new tie-in until two bends join them, and build one of the ways."""
    kind, options = random.choice([*MAKE_UPS[:1], ("miter", {"welds": 2, "miters_allowed": True})])
    ends = {"end_a": "beveled", "end_b": random.choice(("plain", "grooved", "beveled"))}
    tie_in = make_tie_in(job, mark, nps=random.choice(("4", "6", "8")), bend_kind=kind, bend_options=options, **ends)
    for _ in range(60):
        port = (random.uniform(900, 2200), random.uniform(300, 900), random.uniform(40, 400))
        turn = radians(random.choice((0, 0, 30, 60, 90)))
        away = (port[0] + 600 * cos(turn), port[1] + 600 * sin(turn), port[2])
        reading = bring(tie_in, (away, port))
        if reading is not None and reading.line is not None:
            ways = ways_to_lay_out(reading)
            given = {"person": foreman_of(job.shop), "key": make_key(), "at": NOON, "reason": "as drawn"}
            return lay_out(reading_id=reading.id, code=random.choice(ways).code, **given)
        tie_in = make_tie_in(job, f"{tie_in.mark}x"[-8:], nps=tie_in.nps, bend_kind=kind, bend_options=options, **ends)
    raise AssertionError(f"No two bends of {kind} in NPS {tie_in.nps} could be built.")


def replace_tie_in(tie_in: Any, mark: str) -> Any:
    """Another tie-in like that one, for when its reading wasn't released."""
    fields = {
        name: getattr(tie_in, name) for name in ("nps", "schedule", "bend_kind", "bend_options", "end_a", "end_b")
    }
    return make_tie_in(tie_in.job, mark, **fields)


def _typed(random: Random, units: str) -> Typed:
    """A reading of some legs with the closing measure that belongs to them, on the job's tape."""
    tape = SIXTEENTH if units == "us" else MILLIMETER
    included = random.randrange(4 * 70, 4 * 168) / 4
    a, b = (round_to(random.uniform(600, 1900), tape) for _ in range(2))
    c = sqrt(a * a + b * b - 2 * a * b * cos(radians(included)))
    typed = Typed(
        leg_a=format_length(a, graduation=tape),
        leg_b=format_length(b, graduation=tape),
        included=f"{included:g}",
        closing=format_length(c, graduation=tape),
        hand=random.choice(("left", "right", "up", "down", "")),
    )
    return typed if units == "us" else replace(typed, burn_a="102", burn_b="102")
