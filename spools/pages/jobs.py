"""Jobs: the list, one job with its tie-ins, and what is added to them."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from spools.actions.add_tie_in import add_job, add_tie_in
from spools.errors import ShopError
from spools.exports import export
from spools.flow.roles import Role
from spools.marks import mark_key
from spools.pages.asking import ShopRequest
from spools.pages.job_forms import JobForm, TieInForm
from spools.queries.jobs import jobs_with_counts, one_job, tie_ins_of
from spools.queries.pipe_specs import usual_of
from spools.queries.tie_in_rows import TIE_IN_COLUMNS, tie_in_rows

PAGE = 50
SHOWN = {"": "all", "to_measure": "to measure", "in_shop": "in the shop", "delivered": "delivered"}


def jobs(request: ShopRequest) -> HttpResponse:
    """List the shop's jobs."""
    is_open = request.GET.get("show") != "closed"
    context = {
        "page": Paginator(jobs_with_counts(request.user, is_open=is_open), PAGE).get_page(request.GET.get("page")),
        "tabs": open_and_closed(is_open=is_open),
        "is_open": is_open,
        "may_add": request.user.may(frozenset({Role.FOREMAN, Role.MANAGER})),
    }
    return render(request, "spools/jobs.html", context)


def open_and_closed(*, is_open: bool) -> list[dict[str, object]]:
    """Return the two tabs of a page of jobs: those at work, and those of years past."""
    shown = (("open", "", is_open), ("closed", "closed", not is_open))
    return [{"label": words, "url": f"?show={code}", "current": current} for words, code, current in shown]


def job(request: ShopRequest, job_id: int) -> HttpResponse:
    """Show one job's tie-ins in walking order."""
    found = one_job(job_id, request.user)
    rows = tie_ins_of(found)
    which = request.GET.get("show", "")
    if which == "to_measure":
        rows = rows.to_measure()
    elif which == "in_shop":
        rows = rows.filter(spools__live=True, spools__accepted_at=None)
    elif which == "delivered":
        rows = rows.filter(spools__live=True, spools__delivered_at__isnull=False)
    context = {
        "job": found,
        "page": Paginator(rows, PAGE).get_page(request.GET.get("page")),
        "tabs": [{"label": words, "url": f"?show={code}", "current": code == which} for code, words in SHOWN.items()],
        "may_add": request.user.may(frozenset({Role.FOREMAN, Role.FIELD})),
    }
    return render(request, "spools/job.html", context)


def job_export(request: ShopRequest, job_id: int, kind: str) -> HttpResponse:
    """Give one job's tie-ins as CSV or XLSX."""
    found = one_job(job_id, request.user)
    return export(f"job-{mark_key(found.number)}", kind, TIE_IN_COLUMNS, tie_in_rows(found))


def job_new(request: ShopRequest) -> HttpResponse:
    """Add a job."""
    form = JobForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            added = add_job(person=request.user, **form.cleaned_data)
        except ShopError as trouble:
            for name, words in trouble.fields.items():
                form.add_error(name, words)
        else:
            messages.success(request, f"Job {added} is here. Add its tie-ins.")
            return redirect("job", added.id)
    return render(request, "spools/job_new.html", {"form": form}, status=422 if request.method == "POST" else 200)


def tie_in_new(request: ShopRequest, job_id: int) -> HttpResponse:
    """Add a tie-in to a job."""
    found = one_job(job_id, request.user)
    usual = usual_of(found)
    chosen = request.GET.get("nps") or next(iter(usual), "")
    form = TieInForm(
        request.POST or None, job=found, initial={"nps": chosen} | usual[chosen] if chosen in usual else None
    )
    if request.method == "POST" and form.is_valid():
        try:
            added = add_tie_in(
                job_id=job_id, main_id=form.cleaned_data["main"].id, new=form.new_tie_in(), person=request.user
            )
        except ShopError as trouble:
            form.say(trouble.fields)
        else:
            messages.success(request, f"{added.mark} is here, to be measured.")
            return redirect("reading-new", added.id)
    context = {"form": form, "job": found, "usual": usual, "chosen": chosen}
    return render(request, "spools/tie_in_new.html", context, status=422 if request.method == "POST" else 200)


urlpatterns = [
    path("jobs/", jobs, name="jobs"),
    path("jobs/new/", job_new, name="job-new"),
    path("jobs/<int:job_id>/", job, name="job"),
    path("jobs/<int:job_id>/tie-ins.<str:kind>", job_export, name="job-export"),
    path("jobs/<int:job_id>/tie-ins/new/", tie_in_new, name="tie-in-new"),
]
