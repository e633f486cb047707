"""Which spools the promise counts: the open jobs and what came due lately, so that years of work cost nothing."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta

from django.db.models import Count, Exists, OuterRef, Q

from spools.errors import not_found
from spools.models import Job, Person, Spool, TieIn
from spools.turnaround.shifts import Calendar

# Twelve due weeks are drawn and twelve Mondays tried in the back-test, each from the 15 working days before it.
WEEKS = 16


@dataclass(frozen=True, slots=True)
class Scope:
    """The jobs that count, the one of them that was asked for, and the moment from which due times count.

    ``since`` is empty for a closed job: it is over and is shown whole.
    """

    jobs: tuple[Job, ...]
    chosen: Job | None
    since: datetime | None

    @property
    def job_ids(self) -> list[int]:
        """The numbers of the jobs that count."""
        return [self.chosen.id] if self.chosen else [job.id for job in self.jobs if job.is_open]

    @property
    def which_jobs(self) -> str:
        """The jobs in words."""
        if self.chosen:
            return f"job {self.chosen.number}"
        count = len(self.job_ids)
        return "the one open job" if count == 1 else f"the {count} open jobs" if count else "no job: none is open"

    def counts(self, due_at: datetime | None) -> bool:
        """Tell whether everything that was due then is counted, and not only what is not on site yet."""
        return self.since is None or due_at is None or due_at >= self.since


@dataclass(frozen=True, slots=True)
class TieInCount:
    """All tie-ins of the jobs that count, and how many of them are on site and too old to be looked at."""

    all: int
    left_out: int


def scope_of(person: Person, *, at: datetime, calendar: Calendar, job_id: int | None = None) -> Scope:
    """Return what counts: one job, or all open ones (one query). Raises ``ShopError`` not_found."""
    jobs = tuple(Job.objects.for_person(person).filter(Q(is_open=True) | Q(id=job_id)))
    chosen = next((job for job in jobs if job.id == job_id), None)
    if job_id is not None and chosen is None:
        raise not_found("job of that number")
    closed = chosen is not None and not chosen.is_open
    return Scope(jobs, chosen, None if closed else since_of(at, calendar))


def since_of(at: datetime, calendar: Calendar) -> datetime:
    """Return the start of the Monday 16 weeks ago."""
    today = calendar.local(at).date()
    return calendar.moment(today - timedelta(days=today.weekday(), weeks=WEEKS), time(0))


def count_tie_ins(scope: Scope) -> TieInCount:
    """Count the tie-ins (one query)."""
    tie_ins = TieIn.objects.filter(job__in=scope.job_ids)
    if scope.since is None:
        return TieInCount(tie_ins.count(), 0)
    old = Spool.objects.filter(tie_in=OuterRef("pk"), live=True, delivered_at__isnull=False, due_at__lt=scope.since)
    found = tie_ins.aggregate(all=Count("id"), left_out=Count("id", filter=Exists(old)))
    return TieInCount(found["all"], found["left_out"])
