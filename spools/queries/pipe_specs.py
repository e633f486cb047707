"""What the page of pipe specs shows: each job's sizes with the figures of the pipe table and what uses them."""

from dataclasses import dataclass

from django.db.models import Count

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from geometry.tables import PipeRow, UnknownPipe, pipe, pipe_sizes
from geometry.weights import pounds_per_foot
from spools.models import Job, Person, PipeSpec, TieIn

ENDS = {end.code: end.word for end in END_PREPS}
BENDS = {make_up.code: make_up.word for make_up in MAKE_UPS}


@dataclass(frozen=True, slots=True)
class SpecRow:
    """One spec in words, with the pipe's figures and how many tie-ins of its size the job has."""

    spec: PipeSpec
    row: PipeRow | None
    pounds_per_foot: float
    end_a: str
    end_b: str
    bend: str
    tie_ins: int


@dataclass(frozen=True, slots=True)
class JobSpecs:
    """One job's specs, and the sizes of its tie-ins that have none."""

    job: Job
    rows: tuple[SpecRow, ...]
    without: tuple[str, ...]


def specs_of_jobs(person: Person) -> list[JobSpecs]:
    """Return the jobs, open ones first, each with its specs by rising size (three queries)."""
    jobs = Job.objects.for_person(person).prefetch_related("pipe_specs").order_by("-is_open", "number")
    used: dict[tuple[int, str], int] = {
        (row["job_id"], row["nps"]): row["n"]
        for row in TieIn.objects.for_person(person).values("job_id", "nps").annotate(n=Count("id")).order_by()
    }
    order = {size: place for place, size in enumerate(pipe_sizes())}
    found = []
    for job in jobs:
        specs = sorted(job.pipe_specs.all(), key=lambda spec: order.get(spec.nps, 0))
        known = {spec.nps for spec in specs}
        without = sorted({nps for number, nps in used if number == job.id} - known, key=lambda nps: order.get(nps, 0))
        rows = tuple(_row(spec, used.get((job.id, spec.nps), 0)) for spec in specs)
        found.append(JobSpecs(job, rows, tuple(without)))
    return found


def _row(spec: PipeSpec, tie_ins: int) -> SpecRow:
    try:
        row = pipe(spec.nps, spec.schedule)
    except UnknownPipe:
        row = None
    weight = pounds_per_foot(row) if row else 0.0
    words = (
        ENDS.get(spec.end_a, spec.end_a),
        ENDS.get(spec.end_b, spec.end_b),
        BENDS.get(spec.bend_kind, spec.bend_kind),
    )
    return SpecRow(spec, row, weight, *words, tie_ins)


def usual_of(job: Job) -> dict[str, dict[str, str]]:
    """Return what a new tie-in of each size of a job starts with."""
    return {
        spec.nps: {
            "schedule": spec.schedule,
            "material": spec.material,
            "end_a": spec.end_a,
            "end_b": spec.end_b,
            "bend_kind": spec.bend_kind,
        }
        for spec in job.pipe_specs.all()
    }
