"""Plan a walk along a main, keep it for the crew's phones, print it."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.actions.keep_walk import keep_walk
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.pages.walk_form import WalkForm
from spools.queries.walk import mains_of, one_walk, say_walk, shifts_of, stops_of, walks_of
from spools.walks.plan import WalkPlan, plan_walk


def walk_new(request: ShopRequest) -> HttpResponse:
    """Plan a walk; what is planned is kept at once, as a new row."""
    form = WalkForm(request.POST or None, mains=mains_of(request.user))
    if request.method == "POST" and form.is_valid():
        plan = _planned(form)
        if plan.shifts:
            kept = keep_walk(
                main_id=form.chosen.id,
                plan=plan,
                asked=form.asked,
                person=request.user,
                key=posted_key(request),
                at=timezone.now(),
            )
            return redirect("walk", kept.id)
        form.add_error("main", "Nothing is left to do on this main.")
    context = {"form": form, "key": fresh_key(), "walks": walks_of(request.user), "shop": request.user.the_shop}
    return render(request, "spools/walk_new.html", context, status=422 if request.method == "POST" else 200)


def _planned(form: WalkForm) -> WalkPlan:
    asked = form.asked
    return plan_walk(
        stops_of(form.chosen, asked.what),
        shafts_mm=form.cleaned_data["shafts_mm"],
        in_a_shift=asked.in_a_shift,
        same_shaft=asked.same_shaft,
    )


def walk(request: ShopRequest, walk_id: int) -> HttpResponse:
    """Show one planned walk: a list for paper, shift by shift."""
    found = one_walk(walk_id, request.user)
    units = found.main.job.units
    context = {
        "walk": found,
        "units": units,
        "shifts": shifts_of(found),
        "walked": say_walk(found.walk_mm, units),
        "saved": say_walk(found.mark_order_mm - found.walk_mm, units),
    }
    return render(request, "spools/walk.html", context)


urlpatterns = [
    path("field/walks/", walk_new, name="walk-new"),
    path("field/walks/<int:walk_id>/", walk, name="walk"),
]
