"""Pipe specs: what each job builds a size from, beside the table's own figures for that pipe."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.views.decorators.http import require_POST

from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from geometry.tables import pipe_sizes
from geometry.tables.odd_sizes import say_size
from spools.actions.keep_pipe_spec import SpecFacts, drop_pipe_spec, keep_pipe_spec
from spools.errors import ShopError, not_found
from spools.pages.asking import ShopRequest
from spools.pages.setup import form_page, say_beside
from spools.queries.jobs import one_job
from spools.queries.pipe_specs import specs_of_jobs

FIELDS = ("nps", "schedule", "material", "end_a", "end_b", "bend_kind")


class SpecForm(forms.Form):
    """One size of one job."""

    nps = forms.ChoiceField(label="NPS", choices=lambda: [(size, size) for size in pipe_sizes()], initial="6")
    schedule = forms.CharField(
        label="Schedule", max_length=8, initial="40", help_text="40, 80, STD, XS: as in the tables."
    )
    material = forms.CharField(label="Steel", max_length=30, initial="A53 B")
    end_a = forms.ChoiceField(
        label="End at the main", choices=lambda: [(e.code, e.word) for e in END_PREPS], initial="beveled"
    )
    end_b = forms.ChoiceField(
        label="End at the drain", choices=lambda: [(e.code, e.word) for e in END_PREPS], initial="grooved"
    )
    bend_kind = forms.ChoiceField(
        label="The turn is made by", choices=lambda: [(m.code, m.word) for m in MAKE_UPS], initial="trimmed_elbow"
    )


def setup_specs(request: ShopRequest) -> HttpResponse:
    """List every job's specs with the pipe's own figures."""
    return render(request, "spools/setup/specs.html", {"jobs": specs_of_jobs(request.user)})


def setup_spec(request: ShopRequest, job_id: int, spec_id: int | None = None) -> HttpResponse:
    """Show one spec, or change it."""
    job = one_job(job_id, request.user)
    known = job.pipe_specs.filter(id=spec_id).first() if spec_id else None
    if spec_id and known is None:
        raise not_found("pipe spec of that size")
    form = SpecForm(request.POST or None, initial={name: getattr(known, name) for name in FIELDS} if known else None)
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_pipe_spec(by=request.user, job_id=job_id, spec_id=spec_id, facts=SpecFacts(**form.cleaned_data))
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept}: kept. New tie-ins of that size start with it.")
            return redirect("setup-specs")
    title = f"{say_size(known.nps)} of job {job.number}" if known else f"A new pipe spec of job {job.number}"
    return form_page(request, form, title, back="setup-specs", back_words="Pipe specs")


@require_POST
def setup_spec_drop(request: ShopRequest, job_id: int, spec_id: int) -> HttpResponse:
    """Take a spec away."""
    drop_pipe_spec(by=request.user, job_id=job_id, spec_id=spec_id)
    messages.success(request, "Taken away; tie-ins that are there keep what they have.")
    return redirect("setup-specs")


urlpatterns = [
    path("setup/specs/", setup_specs, name="setup-specs"),
    path("setup/jobs/<int:job_id>/specs/new/", setup_spec, name="setup-spec-new"),
    path("setup/jobs/<int:job_id>/specs/<int:spec_id>/", setup_spec, name="setup-spec"),
    path("setup/jobs/<int:job_id>/specs/<int:spec_id>/drop/", setup_spec_drop, name="setup-spec-drop"),
]
