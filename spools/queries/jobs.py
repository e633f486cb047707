"""What the pages of jobs show: counts by where things stand, and one job's tie-ins."""

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery

from spools.errors import not_found
from spools.models import Job, Person, Spool
from spools.models.jobs import TieInQuerySet


def jobs_with_counts(person: Person, *, is_open: bool) -> QuerySet[Job]:
    """Return the shop's open or closed jobs with how many tie-ins are there, measured and delivered."""
    live = Q(tie_ins__spools__live=True)
    return (
        Job.objects.for_person(person)
        .filter(is_open=is_open)
        .order_by("number")
        .annotate(
            tie_in_count=Count("tie_ins", distinct=True),
            measured_count=Count("tie_ins", filter=Q(tie_ins__current_reading__isnull=False), distinct=True),
            delivered_count=Count(
                "tie_ins", filter=live & Q(tie_ins__spools__delivered_at__isnull=False), distinct=True
            ),
        )
    )


def one_job(job_id: int, person: Person) -> Job:
    """Return one job. Raises ``ShopError`` not_found."""
    found = Job.objects.for_person(person).select_related("shop").filter(id=job_id).first()
    if found is None:
        raise not_found("job of that number")
    return found


def tie_ins_of(job: Job) -> TieInQuerySet:
    """Return a job's tie-ins in walking order, each with its live spool's number and where it stands."""
    live = Spool.objects.filter(tie_in=OuterRef("pk"), live=True)
    return (
        job.tie_ins.along_the_main()
        .select_related("main")
        .annotate(
            spool_id=Subquery(live.values("id")[:1]),
            spool_status=Subquery(live.values("status")[:1]),
            spool_next=Subquery(live.values("next_step")[:1]),
            spool_due=Subquery(live.values("due_at")[:1]),
            spool_held=Subquery(live.values("hold_count")[:1]),
        )
    )
