"""Moving work: ticked spools to a bench, a proposal applied in one press, a bench down, and all of it undone in one."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_POST

from spools.actions.bench_down import bring_bench_up, take_bench_down
from spools.actions.put_on_bench import put_on_bench, take_off_bench
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, invalid
from spools.models import Spool
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_number, posted_numbers
from spools.queries.bench import one_bench
from spools.queries.floor import moves_of
from spools.queries.proposal import proposal
from spools.transactions import fingerprint, part_key

NOWHERE = "none"
PRESS = 44  # leaves room for the number of the spool in each move's own key


@require_POST
def assign(request: ShopRequest) -> HttpResponse:
    """Put several spools on a bench, or take them off."""
    bench = request.POST.get("bench", "")
    return _move(request, [(number, bench) for number in posted_numbers(request.POST.getlist("spool"))])


def propose(request: ShopRequest) -> HttpResponse:
    """Show where what waits could go, and why; of a bench that is down, where its queue could go."""
    asked = request.GET.get("bench", "")
    bench = one_bench(posted_number(asked), request.user) if asked else None
    context = {
        "proposal": proposal(request.user, at=timezone.now(), of_bench=bench),
        "bench": bench,
        "key": fresh_key(),
        "at": timezone.now(),
    }
    return render(request, "spools/proposal.html", context)


@require_POST
def apply_proposal(request: ShopRequest) -> HttpResponse:
    """Do all the ticked moves of a proposal."""
    pairs = [text.partition(":") for text in request.POST.getlist("move")[:1000]]
    return _move(request, [(posted_number(spool), bench) for spool, _, bench in pairs])


@require_POST
def undo_moves(request: ShopRequest) -> HttpResponse:
    """Take the moves of one press back, newest first."""
    pressed, key, at = posted_key(request), fresh_key(), timezone.now()
    undone, refused = 0, []
    for event in moves_of(pressed, request.user):
        try:
            undo_event(
                spool_id=event.spool_id, number=event.number, person=request.user, key=part_key(key, event.id), at=at
            )
            undone += 1
        except ShopError as trouble:
            refused.append(f"{event.spool.label}: {trouble}")
    _tell(request, f"{_spools(undone)} put back." if undone else "", refused)
    return redirect("floor")


@require_POST
def bench_down(request: ShopRequest, bench_id: int) -> HttpResponse:
    """Take a bench down and offer its queue to those that can take it."""
    back_at = _local(request, request.POST.get("back_at", ""))
    bench = take_bench_down(
        bench_id=bench_id,
        person=request.user,
        at=timezone.now(),
        reason=request.POST.get("reason", ""),
        back_at=back_at,
    )
    messages.warning(
        request,
        f"{bench.heading} is down: {bench.down_reason}. Here is where its queue could go.",
    )
    return redirect(f"{reverse('proposal')}?{urlencode({'bench': bench.id})}")


@require_POST
def bench_up(request: ShopRequest, bench_id: int) -> HttpResponse:
    """Bring a bench back."""
    bench = bring_bench_up(bench_id=bench_id, person=request.user, at=timezone.now())
    messages.success(request, f"{bench.heading} is up.")
    return redirect("floor")


def _move(request: ShopRequest, moves: Iterable[tuple[int, str]]) -> HttpResponse:
    key, at = posted_key(request), timezone.now()
    key = key if len(key) <= PRESS else fingerprint(key)[:PRESS]
    done, refused, asked = 0, [], 0
    for number, bench in moves:
        asked += 1
        call: dict[str, Any] = {"spool_id": number, "person": request.user, "key": f"{key}-{number}", "at": at}
        try:
            if bench == NOWHERE:
                take_off_bench(**call)
            else:
                put_on_bench(**call, bench_id=posted_number(bench))
            done += 1
        except ShopError as trouble:
            refused.append(f"{_label(number, request)}: {trouble.words}")
    _tell(request, f"{_spools(done)} moved." if done else "", refused)
    if not asked:
        messages.warning(request, "Tick the spools first, then press a bench.")
    return redirect(f"{reverse('floor')}?{urlencode({'moved': key})}" if done else reverse("floor"))


def _tell(request: ShopRequest, done: str, refused: list[str]) -> None:
    if done:
        messages.success(request, done)
    for words in refused[:5]:
        messages.error(request, words)


def _spools(count: int) -> str:
    return f"{count} spool{'s' if count != 1 else ''}"


def _label(number: int, request: ShopRequest) -> str:
    found = Spool.objects.for_person(request.user).select_related("tie_in").filter(id=number).first()
    return found.label if found else "a spool"


def _local(request: ShopRequest, text: str) -> datetime | None:
    if not text:
        return None
    try:
        found = parse_datetime(text)
    except ValueError:
        found = None
    if found is None:
        raise invalid({"back_at": "Write the day and the time when it is expected back."}, "That is no time.")
    return found.replace(tzinfo=request.user.the_shop.zone)


urlpatterns = [
    path("floor/assign", assign, name="assign"),
    path("floor/proposal", propose, name="proposal"),
    path("floor/proposal/apply", apply_proposal, name="proposal-apply"),
    path("floor/moves/undo", undo_moves, name="moves-undo"),
    path("benches/<int:bench_id>/down/", bench_down, name="bench-down"),
    path("benches/<int:bench_id>/up/", bench_up, name="bench-up"),
]
