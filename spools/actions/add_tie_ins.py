"""Add a checked list of tie-ins to a job: all of it or nothing."""

from collections.abc import Sequence

from spools.actions.add_tie_in import TIE_IN_WHO
from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.imports.tie_ins import TieInLine
from spools.models import Job, Person, TieIn
from spools.tie_in_values import NewTieIn
from spools.transactions import all_or_nothing


@all_or_nothing
def add_tie_ins(*, job_id: int, lines: Sequence[TieInLine], person: Person) -> int:
    """Add every line, or none; returns how many.

    The lines are those of ``check_tie_ins``. Raises ``ShopError``: not_your_role, not_found, and invalid where somebody
    took one of the marks meanwhile.
    """
    if not person.may(TIE_IN_WHO):
        raise not_your_role("Add tie-ins", say_roles(TIE_IN_WHO))
    job = Job.objects.for_person(person).select_for_update(of=("self",)).filter(id=job_id).first()
    if job is None:
        raise not_found("job of that number")
    mains = set(job.mains.values_list("id", flat=True))
    if not {line.main_id for line in lines} <= mains:
        raise not_found("main of that job")
    keys = [line.key for line in lines]
    taken = job.tie_ins.filter(mark_key__in=keys).order_by("mark_key").values_list("mark", flat=True)[:5]
    if taken:
        raise invalid({"file": f"Somebody added {', '.join(taken)} meanwhile: bring the list again."})
    rows = [TieIn(job=job, main_id=line.main_id, mark_key=line.key, **values_of(line.new)) for line in lines]
    TieIn.objects.bulk_create(rows, batch_size=500)
    return len(rows)


def values_of(new: NewTieIn) -> dict[str, object]:
    """Return the columns of a new tie-in."""
    values = {name: getattr(new, name) for name in NewTieIn.__dataclass_fields__}
    return values | {"mark": new.mark.strip()}
