"""What is done on the page of one load besides counting: later trips, what is missing, weights, the link."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from geometry.weights import KG_PER_LB
from spools.actions.count_back import report_damaged
from spools.actions.load_truck import send_trip
from spools.actions.renew_link import end_link, renew_link
from spools.actions.replace_spool import start_replacement, use_the_old_one
from spools.actions.turn_up import turn_up
from spools.actions.uncount import uncount
from spools.actions.weigh_load import weigh_load
from spools.errors import ShopError, invalid, not_found
from spools.pages.asking import ShopRequest, posted_key, posted_number

Deed = Callable[[ShopRequest, int, dict[str, Any]], str]


@require_POST
def load_deed(request: ShopRequest, load_id: int) -> HttpResponse:
    """Do one deed and go back to the load; a refusal is said there, and nothing else is lost."""
    deed = DEEDS.get(request.POST.get("do", ""))
    if deed is None:
        raise not_found("deed of that name")
    try:
        call = {"person": request.user, "key": posted_key(request), "at": timezone.now()}
        messages.success(request, deed(request, load_id, call))
    except ShopError as trouble:
        if trouble.status == 404:
            raise
        messages.error(request, str(trouble))
    return redirect("load", load_id)


def _spool(request: ShopRequest) -> int:
    return posted_number(request.POST.get("spool", ""))


def _reason(request: ShopRequest) -> str:
    return request.POST.get("reason", "").strip()[:300]


def _send(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    trip = posted_number(request.POST.get("trip", ""))
    send_trip(load_id=load_id, trip=trip, **call)
    return f"Trip {trip} is on its way."


def _turn_up(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    load = turn_up(load_id=load_id, spool_id=_spool(request), **call)
    spare = load.lines.filter(spool_id=_spool(request), settled="spare").exists()
    return "It is a spare: its replacement is the one that counts." if spare else "Counted back."


def _replace(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    rush = request.POST.get("rush") == "yes"
    new = start_replacement(spool_id=_spool(request), reason=_reason(request), rush=rush, **call)
    return f"{new.label} is to be cut; its clock began with the first one."


def _use_old(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    old = use_the_old_one(spool_id=_spool(request), **call)
    return f"{old.label} counts again; its replacement is scrapped."


def _damaged(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    report_damaged(
        load_id=load_id, spool_id=_spool(request), how=request.POST.get("how", ""), note=_reason(request)[:120], **call
    )
    return "Written down as damaged; it stops until the foreman decides."


def _uncount(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    uncount(load_id=load_id, spool_id=_spool(request), reason=_reason(request), **call)
    return "Taken back: the line is open again."


def _weigh(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    text = request.POST.get("net", "").replace(",", "").replace("lb", "").strip()
    try:
        net_kg = float(text) * KG_PER_LB
    except ValueError as wrong:
        raise invalid({"net": "Type pounds, such as 2604."}, f"“{text[:20]}” is no weight.") from wrong
    weigh_load(load_id=load_id, way=request.POST.get("way", ""), net_kg=net_kg, **call)
    return "Weight kept."


def _renew(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    renew_link(load_id=load_id, person=call["person"], at=call["at"])
    return "The link opens for longer."


def _new_link(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    renew_link(load_id=load_id, person=call["person"], at=call["at"], new=True)
    return "A new link: print the sheet again, the old code is dead."


def _end_link(request: ShopRequest, load_id: int, call: dict[str, Any]) -> str:
    end_link(load_id=load_id, person=call["person"], at=call["at"])
    return "The link is closed."


DEEDS: dict[str, Deed] = {
    "send": _send,
    "turned_up": _turn_up,
    "replace": _replace,
    "use_old": _use_old,
    "damaged": _damaged,
    "uncount": _uncount,
    "weigh": _weigh,
    "renew_link": _renew,
    "new_link": _new_link,
    "end_link": _end_link,
}

urlpatterns = [path("loads/<int:load_id>/deed/", load_deed, name="load-deed")]
