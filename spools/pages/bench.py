"""The fitter's page: this bench's next spool, big, with one tap for what is done; no page loads between taps."""

from datetime import datetime

from django.contrib import messages
from django.http import HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from spools.actions.undo_event import OWN_UNDO
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Event, Person
from spools.pages.asking import ShopRequest, fresh_key
from spools.pages.live import live
from spools.pages.paper_stops import paper_of, paper_stopped
from spools.pages.tapping import tapped
from spools.queries.bench import (
    benches_of,
    hands_of,
    in_queue,
    latest_here,
    old_paper_at,
    one_bench,
    spool_meant,
    to_accept,
)
from spools.queries.spool_drawing import drawing_svg

PAGE = 50
ASKED = frozenset({"out_of_order", "check_off", "depends"})


def bench(request: ShopRequest) -> HttpResponse:
    """Choose a bench; the only one opens at once."""
    benches = benches_of(request.user)
    if len(benches) == 1:
        return redirect("bench-queue", benches[0].id)
    context = _who(request) | {
        "benches": benches,
        "waiting": to_accept(request.user)[:PAGE],
        "at": timezone.now(),
    }
    return render(request, "spools/bench.html", context)


@live
def bench_queue(request: ShopRequest, bench_id: int, *, polled: bool) -> HttpResponse:
    """Show one bench: the next spools with their drawing and figures, then the rest of the queue."""
    at, found = timezone.now(), one_bench(bench_id, request.user)
    queue = in_queue(found, request.user)
    chosen, wanted = _chosen(request)
    old = old_paper_at(chosen, request.user)
    paper = paper_of(wanted, request.user) if wanted and old and not polled else None
    if paper:
        paper_stopped(paper, request.user, at=at, where=f"at {found.called}")
    hands = [] if old else hands_of(found, queue, request.user, chosen=chosen)
    context = _who(request) | {
        "unknown": wanted if wanted and not chosen else "",
        "bench": found,
        "old": old,
        "queue": queue,
        "hands": [(hand, drawing_svg(hand.spool)) for hand in hands],
        "in_hand": hands[0].spool if hands else None,
        "key": fresh_key(),
        "latest": [(event, _own_slip(event, request.user, at)) for event in latest_here(found)],
        "at": at,
        "shop": request.user.the_shop,
        "is_foreman": request.user.may(frozenset({Role.FOREMAN})),
    }
    return render(request, "spools/bench/_live.html" if polled else "spools/bench_queue.html", context)


@require_POST
def bench_tap(request: ShopRequest, bench_id: int) -> HttpResponse:
    """Take one tap, as it is tapped or when the network is back: the same key is the same tap."""
    wants_json = "application/json" in request.headers.get("Accept", "")
    at, found = timezone.now(), one_bench(bench_id, request.user)
    try:
        state, words = tapped(request, found, at)
    except ShopError as trouble:
        paper = paper_of(request.POST.get("spool", ""), request.user) if trouble.code == "ended" else None
        if paper:
            paper_stopped(paper, request.user, at=at, where=f"tapped at {found.called}")
        if not wants_json:
            raise
        return JsonResponse(_refused(trouble), status=trouble.status)
    if wants_json:
        return JsonResponse({"state": state, "words": words})
    messages.success(request, f"{words}.")
    return redirect("bench-queue", bench_id)


def _refused(trouble: ShopError) -> dict[str, object]:
    return {
        "state": "asks" if trouble.code in ASKED else "refused",
        "code": trouble.code,
        "words": trouble.words,
        "what_to_do": trouble.what_to_do,
        "fields": trouble.fields,
        "yes": trouble.facts.get("yes", ""),
        "no": trouble.facts.get("no", ""),
    }


def _who(request: ShopRequest) -> dict[str, object]:
    """Who acts, whose names stand on top, and whether anybody can act at all."""
    return {
        "person": request.user,
        "names": getattr(request, "names_on", ()),
        "shared": request.user.role_set == {Role.TABLET},
    }


def _own_slip(event: Event, person: Person, at: datetime) -> bool:
    """Tell whether it is the person's own tap of the last minutes, which they may undo in place."""
    return event.person_id == person.id and at - event.received_at <= OWN_UNDO


def _chosen(request: ShopRequest) -> tuple[int | None, str]:
    """Return the spool that was pressed, typed or scanned, and what was typed."""
    wanted = request.GET.get("mark", "").replace("\x00", "").strip()[:40]
    if wanted:
        return spool_meant(wanted, request.user), wanted
    return _number(request.GET.get("spool", "")), ""


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 18 else None


urlpatterns = [
    path("benches/", bench, name="bench"),
    path("benches/<int:bench_id>/", bench_queue, name="bench-queue"),
    path("benches/<int:bench_id>/tap/", bench_tap, name="bench-tap"),
]
