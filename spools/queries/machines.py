"""Whether the shop's own machines take a pipe: the saw's throat, the groover's rolls, the beveler's wall."""

from collections.abc import Collection

from spools.flow.machine_limits import none_takes
from spools.flow.steps import STEPS
from spools.models import Bench, Person, Reading
from spools.stored_readings import judge_stored


def no_machine_takes(person: Person, operations: Collection[str], *, nps: str, schedule: str) -> tuple[str, ...]:
    """Return what no machine of the shop takes, a sentence for each operation (one query).

    Only machines that name an operation are asked: where nobody wrote down who saws, nothing is known of the saw.
    """
    machines = [bench.machine for bench in Bench.objects.filter(shop_id=person.the_shop_id, is_active=True)]
    found = []
    for step in STEPS:
        why = none_takes(step.code, nps, schedule, machines) if step.code in operations else ""
        if why:
            found.append(f"{step.imperative}: {why}.")
    return tuple(found)


def beyond_the_machines(reading: Reading, person: Person) -> tuple[str, ...]:
    """Return what no machine takes of the spool that a reading would become."""
    answer = judge_stored(reading).answer
    if answer is None:
        return ()
    operations = {"cut"} | {operation for piece in answer.pieces for end in piece.ends for operation in end.operations}
    if answer.joints:
        operations.add("welded")
    return no_machine_takes(person, operations, nps=reading.tie_in.nps, schedule=reading.tie_in.schedule)
