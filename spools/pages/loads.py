"""The driver's pages: the loads, one load, count back line by line, deliver."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.count_back import DAMAGES, count_back, report_missing
from spools.actions.deliver import deliver
from spools.actions.load_truck import WHO
from spools.flow.roles import Role
from spools.load_links import link_path
from spools.models import Load
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_number, posted_numbers
from spools.queries.load_page import load_page
from spools.queries.loads import count_lines, loads_of, one_load, overdue_loads, ready_for
from spools.say_weights import say_limit, say_verdict

PAGE = 50


def loads(request: ShopRequest) -> HttpResponse:
    """List the loads, open ones first."""
    page = Paginator(loads_of(request.user), PAGE).get_page(request.GET.get("page"))
    page.object_list = list(page.object_list)
    count_lines(page.object_list)
    ready = {kind.value: ready_for(kind, request.user).count() for kind in Load.Kind}
    overdue = overdue_loads(request.user, at=timezone.now())
    return render(request, "spools/loads.html", {"page": page, "ready": ready, "overdue": overdue})


def load(request: ShopRequest, load_id: int) -> HttpResponse:
    """Show one load with a box for each line."""
    found, at = one_load(load_id, request.user), timezone.now()
    page = load_page(found, at=at)
    context = {
        "load": found,
        "page": page,
        "weighed": [
            (row, say_verdict(row.check, row.weighing.way), say_limit(row.check, row.weighing.scale_kg))
            for row in page.weighings
        ],
        "link": request.build_absolute_uri(link_path(found)) if page.link_open else "",
        "damages": DAMAGES,
        "key": fresh_key(),
        "may_change": request.user.may(WHO),
        "is_foreman": request.user.may(frozenset({Role.FOREMAN})),
    }
    return render(request, "spools/load.html", context)


@require_POST
def load_back(request: ShopRequest, load_id: int) -> HttpResponse:
    """Count ticked spools back."""
    numbers = posted_numbers(request.POST.getlist("spool"))
    if not numbers:
        messages.warning(request, "Tick what came back first.")
        return redirect("load", load_id)
    found = count_back(
        load_id=load_id, spool_ids=numbers, person=request.user, key=posted_key(request), at=timezone.now()
    )
    messages.success(request, "All accounted for." if found.closed_at else f"{len(numbers)} counted back.")
    return redirect("load", load_id)


@require_POST
def load_missing(request: ShopRequest, load_id: int) -> HttpResponse:
    """Say that one spool did not come back."""
    report_missing(
        load_id=load_id,
        spool_id=posted_number(request.POST.get("spool", "")),
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        reason=request.POST.get("reason", "")[:300],
    )
    messages.warning(request, "Written down as missing. The foreman sees it.")
    return redirect("load", load_id)


@require_POST
def load_deliver(request: ShopRequest, load_id: int) -> HttpResponse:
    """Deliver ticked spools; the rest stays on the truck or goes back."""
    numbers = posted_numbers(request.POST.getlist("spool"))
    last = request.POST.get("last") == "yes"
    if not numbers and not last:
        messages.warning(request, "Tick what was delivered first.")
        return redirect("load", load_id)
    deliver(
        load_id=load_id,
        spool_ids=numbers,
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        receiver=request.POST.get("receiver", "")[:80],
        last=last,
    )
    messages.success(request, f"{len(numbers)} delivered.")
    return redirect("load", load_id)


urlpatterns = [
    path("loads/", loads, name="loads"),
    path("loads/<int:load_id>/", load, name="load"),
    path("loads/<int:load_id>/back/", load_back, name="load-back"),
    path("loads/<int:load_id>/missing/", load_missing, name="load-missing"),
    path("loads/<int:load_id>/deliver/", load_deliver, name="load-deliver"),
]
