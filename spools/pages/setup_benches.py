"""Benches: what can be done at each, the sizes it takes, and the size it is set up for."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from geometry.tables import pipe_sizes
from spools.actions.keep_bench import BenchFacts, keep_bench
from spools.errors import ShopError
from spools.flow.steps import BY_CODE
from spools.models import Bench
from spools.pages.asking import ShopRequest
from spools.pages.setup import form_page, say_beside
from spools.queries.bench import BENCH_STEPS
from spools.queries.setup import bench_to_set_up, benches_to_set_up, units_of_shop
from spools.typed_fields import TypedFields

SHOWN = ("name", "operations", "sizes", "set_up_nps", "is_active")
LIMITS = ("od_from", "od_to", "wall_to")


class BenchForm(forms.Form):
    """One bench."""

    name = forms.CharField(label="Name", max_length=20, help_text="What the floor calls it: 3, Groover, Saw.")
    operations = forms.MultipleChoiceField(
        label="What is done here",
        choices=lambda: [(code, BY_CODE[code].word) for code in ("cut", *BENCH_STEPS) if code != "accepted"],
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text="None ticked means all. Where nothing is welded, it takes whatever is cut and needs it.",
    )
    sizes = forms.MultipleChoiceField(
        label="Sizes it takes, NPS",
        choices=lambda: [(size, size) for size in pipe_sizes()],
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text="None ticked means any.",
    )
    od_from = forms.CharField(
        label="Smallest outside diameter",
        max_length=20,
        required=False,
        help_text="Of its roller set or its jaws: 2.375 in, or 60 mm. Empty: no limit. An odd size is judged by these.",
    )
    od_to = forms.CharField(
        label="Largest outside diameter", max_length=20, required=False, help_text="A saw's throat, a groover's rolls."
    )
    wall_to = forms.CharField(
        label="Thickest wall", max_length=20, required=False, help_text="What a beveler or a groover still takes."
    )
    set_up_nps = forms.ChoiceField(
        label="Set up for, NPS",
        choices=lambda: [("", "nothing"), *((size, size) for size in pipe_sizes())],
        required=False,
    )
    is_active = forms.BooleanField(label="In use", required=False, initial=True)

    def __init__(self, *args: Any, units: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.units = units

    def clean(self) -> dict[str, Any]:
        """Read the limits as lengths."""
        cleaned, fields = super().clean() or {}, TypedFields(self.units)
        for name in LIMITS:
            cleaned[f"{name}_mm"] = fields.optional(name, cleaned.pop(name, ""))
        for name, words in fields.trouble.items():
            self.add_error(name, words)
        return cleaned

    def facts(self) -> BenchFacts:
        """Return what was filled in, for the deed."""
        data = self.cleaned_data
        return BenchFacts(**data | {"operations": tuple(data["operations"]), "sizes": tuple(data["sizes"])})


def setup_benches(request: ShopRequest) -> HttpResponse:
    """List the benches."""
    return render(request, "spools/setup/benches.html", {"benches": benches_to_set_up(request.user)})


def setup_bench(request: ShopRequest, bench_id: int | None = None) -> HttpResponse:
    """Show one bench, or change it."""
    known = bench_to_set_up(bench_id, request.user) if bench_id else None
    units = units_of_shop(request.user)
    form = BenchForm(request.POST or None, initial=_as_it_is(known, units) if known else None, units=units)
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_bench(by=request.user, facts=form.facts(), bench_id=bench_id)
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, f"{kept.heading}: kept.")
            return redirect("setup-benches")
    title = known.heading if known else "A new bench"
    return form_page(request, form, title, back="setup-benches", back_words="Benches")


def _as_it_is(bench: Bench, units: str) -> dict[str, Any]:
    limits = {name: _written(getattr(bench, f"{name}_mm"), units) for name in LIMITS}
    return {name: getattr(bench, name) for name in SHOWN} | limits


def _written(length_mm: float | None, units: str) -> str:
    """Write a limit so that it is read back as it is: a diameter isn't rounded to sixteenths."""
    if length_mm is None:
        return ""
    return f"{round(length_mm, 2):g} mm" if units == "metric" else f"{round(length_mm / 25.4, 4):g}"


urlpatterns = [
    path("setup/benches/", setup_benches, name="setup-benches"),
    path("setup/benches/new/", setup_bench, name="setup-bench-new"),
    path("setup/benches/<int:bench_id>/", setup_bench, name="setup-bench"),
]
