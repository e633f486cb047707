"""Cut plans: choosing what to plan, a plan bar by bar with how good it is, its sheet, and a longer look."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from cutlists.actions.plan_cuts import WHO, Group, plan_cuts
from cutlists.actions.replan import one_plan, replan
from cutlists.actions.search_plan import ask_search, stop_search
from cutlists.actions.take_out import call_off_plan
from cutlists.models import CutPlan
from cutlists.pages.printing import as_pdf
from cutlists.pages.typed import typed_length_mm
from cutlists.papers.plans import write_plan
from cutlists.queries.plan import plan_page, to_plan
from cutlists.queries.stock import stock_units
from cutlists.queries.what_if import what_if
from cutlists.tasks import search_plan
from geometry.tables.odd_sizes import say_pipe
from spools.background import after_commit
from spools.errors import ShopError
from spools.models import Spool
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_number, posted_numbers
from spools.queries.floor import day_bounds

PLAN_SECONDS = 3.0  # for each pipe, while somebody waits; a longer look is a matter of its own
WHICH: dict[str, Callable[[Spool, datetime], bool]] = {
    "due": lambda spool, end: spool.due_at < end,
    "rush": lambda spool, end: spool.rush,
    "bench": lambda spool, end: spool.bench_id is not None,
}
TABS = (("", "All"), ("due", "Due today or late"), ("rush", "Rush"), ("bench", "On a bench"))


def plan_new(request: ShopRequest) -> HttpResponse:
    """Choose spools and plan their pipe."""
    if request.method != "POST":
        return _choose(request)
    ids = posted_numbers(request.POST.getlist("spool"))
    heats = request.POST.getlist("one_heat")
    try:
        plans = plan_cuts(spool_ids=ids, one_heat=_one_heat(heats), seconds=PLAN_SECONDS, **_call(request))
    except ShopError as trouble:
        return _choose(request, ticked=set(ids), heats=heats, trouble=trouble)
    messages.success(request, "; ".join(f"{say_pipe(plan.nps, plan.schedule)}: {plan.verdict}" for plan in plans) + ".")
    return redirect("plan", plans[0].id) if len(plans) == 1 else redirect("saw")


def plan(request: ShopRequest, plan_id: int) -> HttpResponse:
    """Show one plan bar by bar."""
    page = plan_page(plan_id, request.user)
    context = {"page": page, "key": fresh_key(), "may_plan": request.user.may(WHO)}
    if request.htmx:
        return render(request, "cutlists/plan/_search.html", context)
    return render(request, "cutlists/plan.html", context)


def plan_sheet(request: ShopRequest, plan_id: int) -> HttpResponse:
    """Print one plan."""
    found = one_plan(plan_id, request.user)
    return as_pdf(
        request, f"cut-plan-{found.number}", lambda out, printing, paper: write_plan(out, found, printing, paper=paper)
    )


@require_POST
def plan_again(request: ShopRequest, plan_id: int) -> HttpResponse:
    """Plan the uncut rest again."""
    done = replan(plan_id=plan_id, seconds=PLAN_SECONDS, **_call(request))
    messages.success(request, f"Plan {done.number}: {done.verdict}.")
    return redirect("plan", plan_id)


@require_POST
def plan_off(request: ShopRequest, plan_id: int) -> HttpResponse:
    """Call off what is not cut yet."""
    done = call_off_plan(plan_id=plan_id, **_call(request))
    messages.warning(request, f"What was left of plan {done.number} is called off; its pieces wait for a plan.")
    return redirect("plan", plan_id)


@require_POST
def search(request: ShopRequest, plan_id: int) -> HttpResponse:
    """Look longer for a better plan, in the background."""
    asked = ask_search(plan_id=plan_id, **_call(request))
    after_commit(search_plan, asked.id)
    return redirect("plan", plan_id)


@require_POST
def search_stop(request: ShopRequest, search_id: int) -> HttpResponse:
    """Stop looking; the best that is known is kept."""
    return redirect("plan", stop_search(search_id=search_id, person=request.user).plan_id)


def _call(request: ShopRequest) -> dict[str, Any]:
    return {"person": request.user, "key": posted_key(request), "at": timezone.now()}


def _one_heat(chosen: list[str]) -> dict[Group, int]:
    """Read ``nps|schedule|material|heat`` of each pipe that keeps to one heat."""
    asked = {}
    for text in filter(None, chosen):
        nps, schedule, material, heat_id = (*text.split("|"), "", "", "", "")[:4]
        asked[nps, schedule, material] = posted_number(heat_id)
    return asked


def _choose(
    request: ShopRequest,
    *,
    ticked: set[int] | None = None,
    heats: Sequence[str] = (),
    trouble: ShopError | None = None,
) -> HttpResponse:
    units = stock_units(request.user.the_shop)
    text = request.GET.get("bought", "").strip()[:20]
    groups = to_plan(request.user)
    which = request.GET.get("which", "")
    if ticked is None and which in WHICH:
        end = day_bounds(timezone.now(), request.user.the_shop)[1]
        ticked = {spool.id for group in groups for spool, _ in group.spools if WHICH[which](spool, end)}
    context: dict[str, Any] = {
        "groups": groups,
        "ticked": ticked,
        "heats": heats,
        "trouble": trouble,
        "units": units,
        "key": fresh_key(),
        "plans": CutPlan.objects.for_person(request.user).to_cut(),
        "bought": text,
        "tabs": [{"label": label, "url": f"?which={code}", "current": code == which} for code, label in TABS],
    }
    if text:
        try:
            context["answers"] = what_if(groups, typed_length_mm("bought", text, units), request.user.the_shop)
        except ShopError as refusal:
            context["bought_trouble"] = refusal.fields["bought"]
    return render(request, "cutlists/plan_new.html", context, status=trouble.status if trouble else 200)


urlpatterns = [
    path("saw/plan/", plan_new, name="plan-new"),
    path("saw/plans/<int:plan_id>/", plan, name="plan"),
    path("saw/plans/<int:plan_id>.pdf", plan_sheet, name="plan-sheet"),
    path("saw/plans/<int:plan_id>/again/", plan_again, name="plan-again"),
    path("saw/plans/<int:plan_id>/off/", plan_off, name="plan-off"),
    path("saw/plans/<int:plan_id>/search/", search, name="plan-search"),
    path("saw/searches/<int:search_id>/stop/", search_stop, name="plan-search-stop"),
]
