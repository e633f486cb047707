"""The counter's page: one load, opened by the code on its sheet, without an account; every tap by its own key."""

import json
from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST

from spools.actions.count_back import DAMAGES, count_back, report_damaged, report_missing
from spools.actions.deliver import deliver
from spools.actions.load_lines import Told
from spools.actions.misfit_on_load import misfit_on_load
from spools.actions.report_misfit import HOW
from spools.actions.sign_load import sign_load
from spools.actions.take_off import leave_for_later, take_off
from spools.actions.turn_up import turn_up
from spools.actions.uncount import uncount
from spools.errors import ShopError, invalid, not_found
from spools.load_links import load_of_link
from spools.models import Load
from spools.pages.asking import fresh_key, posted_key, posted_number, posted_numbers
from spools.pages.tapping import when_tapped
from spools.queries.load_link import counting_of

SOMEBODY = "somebody with the link"
MOST_SIGNATURE = 60_000  # characters of strokes


def load_link(request: HttpRequest, code: str) -> HttpResponse:
    """Show the load to count, or only its live part; say clearly when the link has ended."""
    try:
        load = load_of_link(code, at=timezone.now())
    except ShopError as trouble:
        return _never_kept(render(request, "spools/load_link_ended.html", {"trouble": trouble}, status=trouble.status))
    counting = counting_of(load)
    context = {
        "counting": counting,
        "load": load,
        "shop": load.shop,
        "code": code,
        "key": fresh_key(),
        "damages": DAMAGES,
        "misfits": HOW,
    }
    name = "spools/load_link/_live.html" if request.headers.get("X-Part") else "spools/load_link.html"
    return _never_kept(render(request, name, context))


# The code in the address is the permission, not a cookie: a stranger's page that posts here must know it already.
@csrf_exempt
@require_POST
def load_link_tap(request: HttpRequest, code: str) -> HttpResponse:
    """Take one tap of the counter, as it is tapped or when the network is back: the same key is the same tap."""
    at = timezone.now()
    try:
        load = load_of_link(code, at=at)
        deed = TAPS.get(request.POST.get("do", ""))
        if deed is None:
            raise not_found("deed of that name")
        words = deed(request.POST, load, _call(request, load, at))
    except ShopError as trouble:
        return JsonResponse(
            {"state": "refused", "code": trouble.code, "words": trouble.words, "what_to_do": trouble.what_to_do},
            status=trouble.status,
        )
    return JsonResponse({"state": "kept", "words": words})


def _call(request: HttpRequest, load: Load, at: datetime) -> dict[str, Any]:
    """What every deed of the page is called with: it is done for whoever made the load, told by the name typed."""
    posted = request.POST
    done_at = when_tapped(posted.get("done_at", ""), posted.get("sent_at", ""), at)
    name = posted.get("name", "").strip()[:60] or SOMEBODY
    return {
        "load_id": load.id,
        "person": load.made_by,
        "key": posted_key(request),
        "at": at,
        "told": Told(by=name, done_at=done_at),
    }


Posted = Any
Answer = Callable[[Posted, Load, dict[str, Any]], str]


def _spool(posted: Posted) -> int:
    return posted_number(posted.get("spool", ""))


def _here(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    numbers = posted_numbers(posted.getlist("spool"))
    if not numbers:
        raise invalid({"spool": "Tick what is here first."}, "Nothing is ticked.")
    if load.kind == Load.Kind.SITE:
        deliver(**call, spool_ids=numbers, receiver="")
    else:
        count_back(**call, spool_ids=numbers)
    return f"{len(numbers)} here"


def _missing(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    if load.kind == Load.Kind.SITE:
        take_off(load_id=load.id, spool_id=_spool(posted), person=call["person"], at=call["at"])
        return "not on the truck"
    report_missing(**call, spool_id=_spool(posted), reason=posted.get("note", "")[:120] or "not here, nobody has it")
    return "missing"


def _later(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    leave_for_later(load_id=load.id, spool_id=_spool(posted), person=call["person"])
    return "comes later"


def _damaged(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    report_damaged(**call, spool_id=_spool(posted), how=posted.get("how", ""), note=posted.get("note", "")[:120])
    return "damaged"


def _misfit(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    misfit_on_load(**call, spool_id=_spool(posted), how=posted.get("how", ""), reason=posted.get("note", "")[:200])
    return "does not fit"


def _undo(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    uncount(**{name: value for name, value in call.items() if name != "told"}, spool_id=_spool(posted))
    return "taken back"


def _turned_up(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    turn_up(**call, spool_id=_spool(posted))
    return "here after all"


def _rest(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    deliver(**call, spool_ids=(), last=True)
    return "the rest goes back"


def _sign(posted: Posted, load: Load, call: dict[str, Any]) -> str:
    text = posted.get("strokes", "")
    try:
        strokes = json.loads(text) if len(text) <= MOST_SIGNATURE else []
    except ValueError:
        strokes = []
    text = posted.get("count", "")
    count = min(posted_number(text), 10_000) if text else None
    sign_load(
        **call, signed_for=posted.get("signed_for", ""), name=posted.get("name", ""), strokes=strokes, counted=count
    )
    return "signed"


TAPS: dict[str, Answer] = {
    "here": _here,
    "missing": _missing,
    "later": _later,
    "damaged": _damaged,
    "misfit": _misfit,
    "undo": _undo,
    "turned_up": _turned_up,
    "rest": _rest,
    "sign": _sign,
}


def _never_kept(answer: HttpResponse) -> HttpResponse:
    answer["Cache-Control"] = "private, no-store"
    answer["Referrer-Policy"] = "no-referrer"
    answer["X-Robots-Tag"] = "noindex"
    return answer


urlpatterns = [
    path("l/<str:code>/", load_link, name="load-link"),
    path("L/<str:code>", load_link, name="load-link-printed"),  # as sheets print it: upper case keeps the code small
    path("l/<str:code>/tap/", load_link_tap, name="load-link-tap"),
]
