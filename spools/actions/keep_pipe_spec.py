"""Add what a job builds a size from, or change it; tie-ins that are there already keep what they have."""

from dataclasses import asdict, dataclass

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from geometry.tables import UnknownPipe, pipe
from geometry.tables.odd_sizes import say_size
from spools.actions.keep_settings import JOB_WHO
from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import say_roles
from spools.models import Job, Person, PipeSpec
from spools.transactions import all_or_nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecFacts:
    """One size of a job: its schedule, steel, ends (codes of ``END_PREPS``) and turn (a code of ``MAKE_UPS``)."""

    nps: str
    schedule: str
    material: str
    end_a: str
    end_b: str
    bend_kind: str


@all_or_nothing
def keep_pipe_spec(*, by: Person, job_id: int, facts: SpecFacts, spec_id: int | None = None) -> PipeSpec:
    """Write a spec down, new or changed. Raises ``ShopError``: not_your_role, not_found, invalid."""
    job = _job(by, job_id)
    spec = job.pipe_specs.filter(id=spec_id).first() if spec_id else PipeSpec(job=job)
    if spec is None:
        raise not_found("pipe spec of that size")
    trouble = _trouble(job, spec, facts)
    if trouble:
        raise invalid(trouble)
    for name, value in asdict(facts).items():
        setattr(spec, name, value.strip())
    spec.save()
    return spec


@all_or_nothing
def drop_pipe_spec(*, by: Person, job_id: int, spec_id: int) -> Job:
    """Take a spec away; tie-ins keep what they were given. Raises ``ShopError``: not_your_role, not_found."""
    job = _job(by, job_id)
    gone, _ = job.pipe_specs.filter(id=spec_id).delete()
    if not gone:
        raise not_found("pipe spec of that size")
    return job


def _job(by: Person, job_id: int) -> Job:
    if not by.may(JOB_WHO):
        raise not_your_role("Pipe specs", say_roles(JOB_WHO))
    job = Job.objects.for_person(by).select_for_update(of=("self",)).filter(id=job_id).first()
    if job is None:
        raise not_found("job of that number")
    return job


def _trouble(job: Job, spec: PipeSpec, facts: SpecFacts) -> dict[str, str]:
    trouble = {}
    try:
        pipe(facts.nps, facts.schedule)
    except UnknownPipe as unknown:
        trouble["schedule"] = str(unknown)
    if job.pipe_specs.filter(nps=facts.nps).exclude(id=spec.id).exists():
        trouble["nps"] = f"{say_size(facts.nps)} has its spec on this job already: change that one."
    if not facts.material.strip():
        trouble["material"] = "Write the steel, such as A53 B."
    ends = {end.code for end in END_PREPS}
    for side in ("end_a", "end_b"):
        if getattr(facts, side) not in ends:
            trouble[side] = f"Choose from {', '.join(sorted(ends))}."
    if facts.bend_kind not in {make_up.code for make_up in MAKE_UPS}:
        trouble["bend_kind"] = f"Choose from {', '.join(make_up.code for make_up in MAKE_UPS)}."
    return trouble
