"""Measuring: the walk's list, and the form of one reading with its checks shown at once."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.check_jig import MasterPosition, check_jig
from spools.actions.clear_obstacle import clear_obstacle
from spools.actions.release_spool import release_spool
from spools.actions.take_reading import Seen, Taken, take_reading
from spools.actions.use_reading import use_reading
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import TieIn
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_number
from spools.pages.jig_form import JigCheckForm
from spools.pages.reading_form import ReadingForm
from spools.queries.field import jigs_of, next_to_measure, one_tie_in, to_measure, usable_set_points, waiting_readings
from spools.queries.further_checks import further_of_tie_in, further_of_typed, say_further
from spools.queries.obstacles import obstacles_with_photos
from spools.stored_solutions import read_finding

PAGE = 50


def field(request: ShopRequest) -> HttpResponse:
    """Show what is still to measure, in walking order."""
    rows = to_measure(request.user)
    page = Paginator(rows, PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "jigs": jigs_of(request.user, at=timezone.now()),
        "waiting": waiting_readings(request.user)[:PAGE],
    }
    return render(request, "spools/field.html", context)


def reading_new(request: ShopRequest, tie_in_id: int) -> HttpResponse:
    """Show the form of a reading, or take what was typed."""
    tie_in = one_tie_in(tie_in_id, request.user)
    states = jigs_of(request.user, at=timezone.now())
    set_points = usable_set_points(states)
    form = ReadingForm(request.POST or None, tie_in=tie_in, set_points=set_points)
    context: dict[str, Any] = {
        "tie_in": tie_in,
        "form": form,
        "jigs": states,
        "key": fresh_key(),
        "units": tie_in.job.units,
        "as_second": request.POST.get("as_second") == "yes",
    }
    if request.method != "POST":
        return render(request, "spools/reading_new.html", context | {"further": say_further(further_of_tie_in(tie_in))})
    if not form.is_valid():
        return render(request, "spools/reading_new.html", context, status=422)
    try:
        taken = _take(request, tie_in, form)
    except ShopError as trouble:
        if trouble.status == 404:
            raise
        form.say(trouble.fields)
        context |= {"trouble": trouble, "findings": [read_finding(f) for f in trouble.facts.get("findings", [])]}
        if trouble.code == "does_not_close":
            needs = further_of_typed(tie_in, form.typed(), form.cleaned_data["set_points"])
            context["further"] = say_further(needs)
        return render(request, "spools/reading_new.html", context, status=trouble.status)
    return _went_well(request, tie_in, taken)


def _take(request: ShopRequest, tie_in: TieIn, form: ReadingForm) -> Taken:
    return take_reading(
        tie_in_id=tie_in.id,
        set_points_id=form.cleaned_data["set_points"].id,
        typed=form.typed(),
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        keep_anyway=request.POST.get("keep_anyway") == "yes",
        again=request.POST.get("again") == "yes",
        seen=Seen(as_second=request.POST.get("as_second") == "yes"),
    )


def _went_well(request: ShopRequest, tie_in: TieIn, taken: Taken) -> HttpResponse:
    if taken.reading.second_of_id:
        codes = {finding.code for finding in taken.findings}
        said = "confirms the first." if "confirms" in codes else "differs from the first: look which one is right."
        messages.success(request, f"{tie_in.mark}: the second reading {said}")
        return redirect("reading", taken.reading.id)
    if taken.spool is None:
        messages.warning(request, f"{tie_in.mark} is kept for the foreman. It is not released yet.")
        return redirect("reading", taken.reading.id)
    ahead = next_to_measure(tie_in, request.user)
    messages.success(
        request, f"{tie_in.mark} closes; its spool is released." + (f" Next: {ahead.mark}." if ahead else "")
    )
    return redirect("spool", taken.spool.id)


@require_POST
def release(request: ShopRequest, reading_id: int) -> HttpResponse:
    """Release a reading by name."""
    spool = release_spool(
        reading_id=reading_id,
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        reason=request.POST.get("reason", "")[:300],
        instead=request.POST.get("instead") == "yes",
    )
    messages.success(request, f"{spool.label} is released.")
    return redirect("spool", spool.id)


def obstacles(request: ShopRequest) -> HttpResponse:
    """Show what can't be measured now, and why."""
    found = obstacles_with_photos(request.user)
    context = {"obstacles": found, "may_clear": request.user.may(frozenset({Role.FOREMAN}))}
    return render(request, "spools/obstacles.html", context)


@require_POST
def obstacle_clear(request: ShopRequest, obstacle_id: int) -> HttpResponse:
    """Say that a tie-in can be measured again."""
    words = request.POST.get("words", "")
    cleared = clear_obstacle(obstacle_id=obstacle_id, words=words, person=request.user, at=timezone.now())
    messages.success(request, f"{cleared.tie_in.mark} is back on the walk.")
    return redirect("obstacles")


@require_POST
def reading_use(request: ShopRequest, reading_id: int) -> HttpResponse:
    """Build from the reading that was taken to compare."""
    reading, spool = use_reading(
        reading_id=reading_id,
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        reason=request.POST.get("reason", "")[:300],
    )
    said = f"{spool.label} is built from it." if spool else "It is not released yet."
    messages.success(request, f"{reading.tie_in.mark} counts by reading {reading.letter} now. {said}")
    return redirect("spool", spool.id) if spool else redirect("reading", reading.id)


def jig_check(request: ShopRequest) -> HttpResponse:
    """Check a jig on its master in two positions."""
    states = jigs_of(request.user, at=timezone.now())
    form = JigCheckForm(request.POST or None, jigs=[state.jig for state in states])
    if request.method == "POST" and form.is_valid():
        positions = (form.position("long"), form.position("short"))
        return _checked(request, posted_number(form.cleaned_data["jig"]), positions)
    context = {"form": form, "jigs": states, "key": fresh_key()}
    return render(request, "spools/jig_check.html", context, status=422 if request.method == "POST" else 200)


def _checked(request: ShopRequest, jig_id: int, positions: tuple[MasterPosition, ...]) -> HttpResponse:
    check = check_jig(
        jig_id=jig_id, positions=positions, person=request.user, key=posted_key(request), at=timezone.now()
    )
    if check.passed:
        messages.success(request, f"Jig {check.jig} is good.")
    else:
        messages.error(request, f"Jig {check.jig} is out of check and locked. Take another; the foreman sees it.")
    return redirect("field")


urlpatterns = [
    path("field/", field, name="field"),
    path("field/<int:tie_in_id>/", reading_new, name="reading-new"),
    path("field/obstacles/", obstacles, name="obstacles"),
    path("field/obstacles/<int:obstacle_id>/clear/", obstacle_clear, name="obstacle-clear"),
    path("field/jig-check/", jig_check, name="jig-check"),
    path("readings/<int:reading_id>/use/", reading_use, name="reading-use"),
    path("readings/<int:reading_id>/release/", release, name="release"),
]
