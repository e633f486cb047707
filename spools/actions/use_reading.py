"""Two people measured and differ: the foreman says which reading is built from."""

from datetime import datetime

from spools.actions.settle_reading import follow_up, make_current
from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Person, Reading, Spool, TieIn
from spools.solving import NEEDS_A_DECISION, Judged
from spools.stored_readings import judge_stored
from spools.stored_solutions import read_finding
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN})


@all_or_nothing
def use_reading(
    *, reading_id: int, person: Person, key: str, at: datetime, reason: str
) -> tuple[Reading, Spool | None]:
    """Build from a reading that was taken to compare; returns it, and its spool where one is released.

    What is built from the first one is replaced, or held where it is cut. A reading that is used already stays so.
    Raises ``ShopError``: not_your_role, invalid (no reason, or not a reading to compare), not_found.
    """
    if not person.may(WHO):
        raise not_your_role("Use another reading", say_roles(WHO))
    if not reason.strip():
        raise invalid({"reason": "Say why this one is right."}, "A reason is missing.")
    found = Reading.objects.for_person(person).select_related("tie_in__job__shop", "set_points__jig")
    reading = found.filter(id=reading_id).first()
    if reading is None:
        raise not_found("reading of that number")
    tie_in = TieIn.objects.select_for_update(of=("self",)).select_related("job__shop").get(id=reading.tie_in_id)
    if tie_in.current_reading_id != reading.id:
        if reading.second_of_id is None:
            raise invalid(
                {"reading": "It was not taken to compare."}, "Only a reading taken to compare can be used so."
            )
        reading.tie_in = tie_in
        make_current(tie_in, reading)
        judged = _judged(reading)
        follow_up(tie_in, reading, judged, person=person, key=key, at=at, because=reason.strip())
    return reading, Spool.objects.filter(reading=reading, live=True).first()


def _judged(reading: Reading) -> Judged:
    """Judge it again; that it differs is what the foreman just decided, any other doubt stands."""
    kept = (read_finding(finding) for finding in reading.findings)
    doubts = [finding for finding in kept if finding.code in NEEDS_A_DECISION - {"differs"}]
    return judge_stored(reading).with_findings(*doubts)
