"""Sheets printed at once: of a spool, a load, a bench, a jig, a main, a job."""

from collections.abc import Callable
from typing import BinaryIO, Protocol, TypeVar

from django.http import HttpResponse
from django.urls import path
from django.utils import timezone

from cutlists.pages.printing import as_pdf
from cutlists.papers.benches import write_bench
from cutlists.papers.field import write_jig, write_log
from cutlists.papers.heading import Printing
from cutlists.papers.loads import write_claim_of, write_load
from cutlists.papers.single import one_single
from cutlists.papers.tags import write_tags
from cutlists.papers.turnaround import write_report
from cutlists.papers.turnover import write_job_record
from cutlists.queries.papers import one_main, one_set_points
from cutlists.sheets import Paper
from spools.models import Person
from spools.pages.asking import ShopRequest, posted_number
from spools.queries.bench import one_bench
from spools.queries.jobs import one_job
from spools.queries.loads import one_load
from spools.queries.promise import promise_of
from spools.queries.tags import one_batch

Row = TypeVar("Row")
Row_contra = TypeVar("Row_contra", contravariant=True)


def sheet(request: ShopRequest, code: str, spool_id: int) -> HttpResponse:
    """Print one spool's sheet."""
    single = one_single(code, spool_id, request.user)
    return as_pdf(request, single.name, single.write)


class Writer(Protocol[Row_contra]):
    """Writes the sheet of one row."""

    def __call__(self, out: BinaryIO, row: Row_contra, printing: Printing, /, *, paper: Paper) -> object:
        """Write it on this paper."""


def prints(
    find: Callable[[int, Person], Row], write: Writer[Row], name: Callable[[Row], str]
) -> Callable[..., HttpResponse]:
    """Return a page that prints the sheet of one row: found for the person who asks, written, named."""

    def page(request: ShopRequest, **number: int) -> HttpResponse:
        (row_id,) = number.values()
        row = find(row_id, request.user)
        return as_pdf(request, name(row), lambda out, printing, paper: write(out, row, printing, paper=paper))

    return page


def promise_report(request: ShopRequest) -> HttpResponse:
    """Print the turnaround report."""
    text = request.GET.get("job", "")
    job = one_job(posted_number(text), request.user) if text else None
    found = promise_of(request.user, at=timezone.now(), job=job.id if job else None)
    return as_pdf(
        request,
        "turnaround",
        lambda out, printing, paper: write_report(out, found, printing, paper=paper, job=job),
    )


load_sheet = prints(one_load, write_load, lambda load: f"load-{load.number}")
load_claim = prints(one_load, write_claim_of, lambda load: f"claim-{load.number}")
bench_list = prints(one_bench, write_bench, lambda bench: f"bench-{bench.id}")
jig_slip = prints(one_set_points, write_jig, lambda points: f"jig-{points.jig_id}")
field_log = prints(one_main, write_log, lambda main: f"field-log-{main.id}")
tag_list = prints(one_batch, write_tags, lambda batch: f"tags-{batch.number}")
turnover = prints(one_job, write_job_record, lambda job: f"turnover-{job.id}")

urlpatterns = [
    path("sheets/<str:code>/<int:spool_id>.pdf", sheet, name="sheet"),
    path("loads/<int:load_id>.pdf", load_sheet, name="load-sheet"),
    path("loads/<int:load_id>/claim.pdf", load_claim, name="load-claim"),
    path("benches/<int:bench_id>.pdf", bench_list, name="bench-list"),
    path("jigs/<int:jig_id>.pdf", jig_slip, name="jig-slip"),
    path("mains/<int:main_id>/field-log.pdf", field_log, name="field-log"),
    path("tags/<int:batch_id>.pdf", tag_list, name="tag-list"),
    path("jobs/<int:job_id>/turnover.pdf", turnover, name="turnover"),
    path("promise.pdf", promise_report, name="promise-report"),
]
