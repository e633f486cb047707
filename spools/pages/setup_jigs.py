"""Jigs: their set points in versions that are followed and never edited."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from geometry.lengths import LengthError, parse_length
from spools.actions.keep_jig import JigConstants, add_jig, follow_set_points
from spools.errors import ShopError
from spools.models import SetPoints
from spools.pages.asking import ShopRequest
from spools.pages.setup import form_page, say_beside
from spools.queries.setup import jig_to_set_up, jigs_to_set_up
from spools.say_lengths import say_length

LENGTHS = ("set_point_a", "set_point_b", "leg_min", "leg_max")
DEGREES = ("included_offset", "included_min", "included_max")


class JigForm(forms.Form):
    """A jig's constants, lengths as a tape says them."""

    serial = forms.CharField(label="Serial number", max_length=20)
    set_point_a = forms.CharField(label="Set point of side A: jig face to pivot center", max_length=30)
    set_point_b = forms.CharField(label="Set point of side B: jig face to pivot center", max_length=30)
    usual_burn = forms.CharField(
        label="Usual burn", max_length=16, initial="4", help_text="The tape mark held at the set point."
    )
    included_offset = forms.FloatField(
        label="Added to what the protractor says, degrees", initial=0, min_value=-20, max_value=20
    )
    included_min = forms.FloatField(label="Smallest included angle, degrees", initial=60, min_value=0, max_value=180)
    included_max = forms.FloatField(label="Largest included angle, degrees", initial=180, min_value=0, max_value=180)
    leg_min = forms.CharField(label="Shortest leg it reads", max_length=30, initial='4"')
    leg_max = forms.CharField(label="Longest leg it reads", max_length=30, initial="8'")

    def clean(self) -> dict[str, Any]:
        """Read the lengths, each refusal beside its field; a bare number is inches."""
        cleaned = super().clean() or {}
        for name in LENGTHS:
            try:
                cleaned[f"{name}_mm"] = parse_length(cleaned.get(name, "")).mm
            except LengthError as refusal:
                self.add_error(name, str(refusal))
        return cleaned

    def constants(self) -> JigConstants:
        """Return what was filled in, for the deed."""
        data = self.cleaned_data
        return JigConstants(
            usual_burn=data["usual_burn"],
            **{f"{name}_mm": data[f"{name}_mm"] for name in LENGTHS},
            **{f"{name}_deg": data[name] for name in DEGREES},
        )


def setup_jigs(request: ShopRequest) -> HttpResponse:
    """List the jigs with every version of their set points."""
    return render(request, "spools/setup/jigs.html", {"jigs": jigs_to_set_up(request.user)})


def setup_jig_new(request: ShopRequest) -> HttpResponse:
    """Add a jig."""
    form = JigForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            kept = add_jig(
                by=request.user, serial=form.cleaned_data["serial"], constants=form.constants(), at=timezone.now()
            )
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"Jig {kept.jig} is here. Check it on its master before the first reading.")
            return redirect("setup-jigs")
    return form_page(request, form, "A new jig", back="setup-jigs", back_words="Jigs")


def setup_jig(request: ShopRequest, jig_id: int) -> HttpResponse:
    """Follow a jig's set points with a newer version."""
    jig = jig_to_set_up(jig_id, request.user)
    newest = max(jig.set_points.all(), key=lambda one: one.version, default=None)
    form = JigForm(request.POST or None, initial=_written(newest) if newest else None)
    del form.fields["serial"]
    if request.method == "POST" and form.is_valid():
        try:
            kept = follow_set_points(by=request.user, jig_id=jig_id, constants=form.constants(), at=timezone.now())
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept} holds from now. Readings taken before keep the version they had.")
            return redirect("setup-jigs")
    title = f"Jig {jig}: set points that follow version {newest.version}" if newest else f"Jig {jig}: set points"
    return form_page(request, form, title, back="setup-jigs", back_words="Jigs")


def _written(points: SetPoints) -> dict[str, Any]:
    lengths = {name: as_written(getattr(points, f"{name}_mm")) for name in LENGTHS}
    return lengths | {name: getattr(points, f"{name}_deg") for name in DEGREES} | {"usual_burn": points.usual_burn}


def as_written(length_mm: float) -> str:
    """Return a length that reads back as the very same: in inches where a tape has it, else in millimeters."""
    inches = say_length(length_mm, "us", "1/32")
    return inches if abs(parse_length(inches).mm - length_mm) < 1e-6 else f"{length_mm:.10g} mm"


urlpatterns = [
    path("setup/jigs/", setup_jigs, name="setup-jigs"),
    path("setup/jigs/new/", setup_jig_new, name="setup-jig-new"),
    path("setup/jigs/<int:jig_id>/", setup_jig, name="setup-jig"),
]
