"""Jobs: units, graduation, root gap and tolerance they work to, and their mains with pipe and shafts."""

import re
from typing import Any

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from geometry.lengths import LengthError, parse_length
from spools.actions.keep_settings import JobFacts, MainFacts, keep_job, keep_main
from spools.errors import ShopError, not_found
from spools.models import Job, Main
from spools.pages.asking import ShopRequest
from spools.pages.jobs import PAGE, open_and_closed
from spools.pages.setup import form_page, say_beside
from spools.pages.setup_jigs import as_written
from spools.queries.jobs import one_job
from spools.queries.setup import jobs_to_set_up
from spools.say_lengths import say_station

FOOT_MM = 304.8
STATION = re.compile(r"^(\d{1,4})\+(\d{2}(?:\.\d{1,2})?)$")
PLAIN = ("name", "customer", "units", "graduation", "coating", "weld_procedure", "is_open")


class JobSettingsForm(forms.Form):
    """What a job works to."""

    name = forms.CharField(label="Name", max_length=120)
    customer = forms.CharField(label="Customer", max_length=120, required=False)
    units = forms.ChoiceField(label="Lengths on this job", choices=Job.Units.choices)
    graduation = forms.ChoiceField(
        label="Cut lengths are rounded to",
        choices=[("1/16", "1/16 in"), ("1/32", "1/32 in"), ("1mm", "1 mm")],
    )
    root_gap = forms.CharField(label="Root gap of butt welds", max_length=20)
    closing_tolerance = forms.CharField(label="A reading closes within", max_length=20)
    weld_procedure = forms.CharField(label="Weld procedure, by its number", max_length=30, required=False)
    coating = forms.BooleanField(label="Spools go to the galvanizer", required=False)
    is_open = forms.BooleanField(label="The job is open", required=False)

    def clean(self) -> dict[str, Any]:
        """Read the two lengths; a bare number is inches."""
        cleaned = super().clean() or {}
        for name in ("root_gap", "closing_tolerance"):
            try:
                cleaned[f"{name}_mm"] = parse_length(cleaned.get(name, "")).mm
            except LengthError as refusal:
                self.add_error(name, str(refusal))
        return cleaned

    def facts(self) -> JobFacts:
        """Return what was filled in, for the deed."""
        data = self.cleaned_data
        return JobFacts(
            root_gap_mm=data["root_gap_mm"],
            closing_tolerance_mm=data["closing_tolerance_mm"],
            **{name: data[name] for name in PLAIN},
        )


class StationField(forms.CharField):
    """A station: ``12+40`` in feet, or meters written with their unit."""

    def clean(self, value: Any) -> float:
        """Return the station in mm."""
        text = super().clean(value)
        plain = STATION.match(text)
        if plain:
            return (int(plain[1]) * 100 + float(plain[2])) * FOOT_MM
        try:
            return parse_length(text, unit="ft", longest_mm=1e9).mm
        except LengthError as refusal:
            raise forms.ValidationError(f"Write the station like 12+40. {refusal}") from refusal


class MainForm(forms.Form):
    """One main."""

    name = forms.CharField(label="Main", max_length=60, help_text="What the crew calls it, such as East gallery.")
    nps = forms.CharField(label="NPS", max_length=8)
    schedule = forms.CharField(label="Schedule", max_length=8, initial="STD")
    station_from = StationField(label="From station", max_length=20, initial="0+00")
    station_to = StationField(label="To station", max_length=20)
    access = forms.CharField(
        label="Shafts and manholes at",
        max_length=200,
        required=False,
        help_text="Stations with a comma between: 0+00, 20+40, 40+80.",
    )

    def clean_access(self) -> tuple[float, ...]:
        """Return the stations in mm, in order."""
        field = StationField(max_length=20)
        return tuple(sorted(field.clean(part) for part in self.cleaned_data["access"].split(",") if part.strip()))

    def facts(self) -> MainFacts:
        """Return what was filled in, for the deed."""
        data = self.cleaned_data
        return MainFacts(
            station_from_mm=data["station_from"],
            station_to_mm=data["station_to"],
            access_mm=data["access"],
            **{name: data[name] for name in ("name", "nps", "schedule")},
        )


def setup_jobs(request: ShopRequest) -> HttpResponse:
    """List the jobs with their mains."""
    is_open = request.GET.get("show") != "closed"
    page = Paginator(jobs_to_set_up(request.user, is_open=is_open), PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "tabs": open_and_closed(is_open=is_open), "is_open": is_open}
    return render(request, "spools/setup/jobs.html", context)


def setup_job(request: ShopRequest, job_id: int) -> HttpResponse:
    """Show one job's settings, or change them."""
    job = one_job(job_id, request.user)
    initial = {name: getattr(job, name) for name in PLAIN}
    initial |= {"root_gap": as_written(job.root_gap_mm), "closing_tolerance": as_written(job.closing_tolerance_mm)}
    form = JobSettingsForm(request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_job(by=request.user, job_id=job_id, facts=form.facts())
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept}: kept. What is released already keeps its own figures.")
            return redirect("setup-jobs")
    return form_page(request, form, f"Job {job}", back="setup-jobs", back_words="Jobs")


def setup_main(request: ShopRequest, job_id: int, main_id: int | None = None) -> HttpResponse:
    """Show one main, or change it."""
    job = one_job(job_id, request.user)
    known = job.mains.filter(id=main_id).first() if main_id else None
    if main_id and known is None:
        raise not_found("main of that name")
    form = MainForm(request.POST or None, initial=_written(known) if known else None)
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_main(by=request.user, job_id=job_id, main_id=main_id, facts=form.facts())
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept}: kept.")
            return redirect("setup-jobs")
    title = f"{known} of job {job.number}" if known else f"A new main of job {job.number}"
    return form_page(request, form, title, back="setup-jobs", back_words="Jobs")


def _written(main: Main) -> dict[str, str]:
    return {
        "name": main.name,
        "nps": main.nps,
        "schedule": main.schedule,
        "station_from": _station_written(main.station_from_mm),
        "station_to": _station_written(main.station_to_mm),
        "access": ", ".join(_station_written(station) for station in main.access_mm),
    }


def _station_written(station_mm: float) -> str:
    """Return a station that reads back as the very same: ``12+40`` where it is whole feet."""
    feet = station_mm / FOOT_MM
    return say_station(station_mm, "us") if abs(feet - round(feet)) < 1e-9 else as_written(station_mm)


urlpatterns = [
    path("setup/jobs/", setup_jobs, name="setup-jobs"),
    path("setup/jobs/<int:job_id>/", setup_job, name="setup-job"),
    path("setup/jobs/<int:job_id>/mains/new/", setup_main, name="setup-main-new"),
    path("setup/jobs/<int:job_id>/mains/<int:main_id>/", setup_main, name="setup-main"),
]
