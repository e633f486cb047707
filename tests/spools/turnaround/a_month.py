"""A month of an invented job, the same every time: 312 tie-ins, a groover down, some held, the tail open."""

import random
from dataclasses import replace
from datetime import timedelta

from spools.turnaround.facts import HoldSpan, SpoolFacts, StepDone
from spools.turnaround.promise import due_at
from spools.turnaround.shifts import Calendar
from tests.spools.turnaround.a_shop import NEW_YORK, WEEK, day, local

STAGES = ("measured", "cut", "grooved", "beveled", "welded", "accepted", "coating out", "delivered")
CALENDAR = Calendar(NEW_YORK, WEEK, closed=frozenset({day("2026-11-11")}))
NOW = local("2026-11-20 14:00")
TIE_INS = 312


def month(*, seed: int = 8) -> tuple[SpoolFacts, ...]:
    """Return 248 measured builds with all their stamps up to ``NOW`` and beyond."""
    draw = random.Random(seed)
    days = CALENDAR.working_days(day("2026-10-21"), day("2026-11-20"))
    return tuple(_build(number, days, draw) for number in range(1, 249))


def _build(number: int, days, draw: random.Random) -> SpoolFacts:
    received = CALENDAR.first_start(days[number * len(days) // 249]) + timedelta(minutes=draw.randint(0, 520))
    stamps, at = [], received
    for step, low, high in (
        ("cut", 0.2, 2.5),
        ("grooved", 0.2, 1.5),
        ("beveled", 0.1, 1.0),
        ("welded", 0.5, 3.5),
        ("accepted", 0.2, 1.0),
    ):
        hours = draw.uniform(low, high)
        if step == "grooved" and day("2026-10-29") <= CALENDAR.local(at).date() <= day("2026-10-30"):
            hours += 9
        if draw.random() < 0.02:
            hours += draw.uniform(6, 20)
        started = CALENDAR.add_working(at, hours * 3600 * 0.7) if step in {"cut", "welded"} else None
        at = CALENDAR.add_working(at, hours * 3600)
        stamps.append(StepDone(step, at, started, at, "Ruiz"))
    accepted = at
    out = accepted + timedelta(days=draw.choice((1, 2, 3)))
    delivered = out + timedelta(days=draw.choice((2, 3, 4)))
    steps = (*stamps, StepDone("coating out", out), StepDone("delivered", delivered))
    passed = sum(step.done_at <= NOW for step in steps)
    held = (HoldSpan(received, None, "which side is up?", "field"),) if number in {201, 233} and accepted > NOW else ()
    facts = SpoolFacts(
        mark=f"{number:03d}",
        tie_in=f"{number:03d}",
        received_at=received,
        taken_at=received - timedelta(hours=draw.uniform(1, 12)),
        clock_start_at=received,
        due_at=due_at(received, calendar=CALENDAR),
        accepted_at=accepted,
        coating_out_at=out,
        delivered_at=delivered,
        cause=draw.choice(("fit", "field", "weld", "saw")),
        steps=steps,
        holds=held,
    )
    next_step = steps[passed].step if passed < len(steps) else ""
    movers = {"cut": "cutter", "grooved": "cutter", "beveled": "cutter", "welded": "fitter", "accepted": "inspector"}
    return replace(facts, next_step=next_step, whose_move=movers.get(next_step, "driver"))
