"""Build a load: by the proposal, in site order within the truck's limits, or by tapping; in several trips."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.actions.load_truck import Placed, load_truck
from spools.errors import ShopError, invalid, not_found
from spools.models import Load
from spools.pages.asking import ShopRequest, fresh_key, posted_key, posted_numbers
from spools.queries.load_proposal import Proposal, overload, propose_load, weight_on
from spools.say_weights import say_weight

GOING_TO = {Load.Kind.COATING: "the galvanizer", Load.Kind.SITE: "site"}


def load_new(request: ShopRequest) -> HttpResponse:
    """Show the proposal with every box in reach; make the load of what is ticked."""
    asked = request.POST if request.method == "POST" else request.GET
    kind = asked.get("kind") or Load.Kind.COATING.value
    if kind not in Load.Kind.values:
        raise not_found("kind of load like that")
    proposal = propose_load(kind, request.user, reach=asked.get("reach", "")[:40])
    context: dict[str, Any] = {
        "kind": kind,
        "kinds": Load.Kind.choices,
        "proposal": proposal,
        "rows": _rows(proposal, kind, request.POST if request.method == "POST" else None),
        "shop": request.user.the_shop,
        "key": fresh_key(),
        "going_to": request.POST.get("going_to", ""),
    }
    if request.method != "POST":
        return render(request, "spools/load_new.html", context)
    try:
        made = _made(request, kind, proposal)
    except ShopError as trouble:
        return render(request, "spools/load_new.html", context | {"trouble": trouble}, status=trouble.status)
    waiting = made.lines.filter(left_at=None).count()
    later = f"; {waiting} wait for a later trip" if waiting else ""
    messages.success(request, f"{made} is on its way with {made.lines.count() - waiting} spools{later}.")
    return redirect("load", made.id)


def _rows(proposal: Proposal, kind: str, posted: QueryDict | None) -> list[dict[str, Any]]:
    """Return each line with what its boxes show: as typed, or else as proposed; only the first trip is ticked."""
    ticked = set(posted.getlist("spool")) if posted is not None else None
    rows = []
    for line in proposal.lines:
        number = str(line.spool.id)
        rows.append(
            {
                "line": line,
                "kg": weight_on(line.spool, kind),
                "ticked": line.trip == 1 if ticked is None else number in ticked,
                "trip": posted.get(f"trip-{number}", "") if posted is not None else line.trip or 1,
                "rack": posted.get(f"rack-{number}", "") if posted is not None else line.rack,
            }
        )
    return rows


def _made(request: ShopRequest, kind: str, proposal: Proposal) -> Load:
    posted = request.POST
    numbers = posted_numbers(posted.getlist("spool"))
    trips = {number: _trip(posted.get(f"trip-{number}", "1")) for number in numbers}
    racks = {number: posted.get(f"rack-{number}", "")[:10] for number in numbers}
    if posted.get("over") != "yes":
        _within_limits(kind, proposal, trips)
    return load_truck(
        kind=kind,
        going_to=posted.get("going_to", "").strip() or GOING_TO[Load.Kind(kind)],
        spool_ids=numbers,
        person=request.user,
        key=posted_key(request),
        at=timezone.now(),
        placed=Placed(trip=trips, rack=racks),
    )


def _trip(text: str) -> int:
    text = text.strip() or "1"
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:3]) <= 20:
        raise invalid({"trip": "A trip is a number from 1 to 20."}, f"“{text[:10]}” is no trip.")
    return int(text)


def _within_limits(kind: str, proposal: Proposal, trips: dict[int, int]) -> None:
    """Ask before a truck is overloaded, or what doesn't fit goes along. Raises ``ShopError`` over_limit."""
    chosen = [line for line in proposal.lines if line.spool.id in trips]
    said = [f"{line.spool.label} is {line.why_not}" for line in chosen if line.why_not]
    over = overload([line.spool for line in chosen], trips, kind, proposal.limits)
    said += [f"trip {number} is {say_weight(kg)} over what the truck takes" for number, kg in over.items()]
    if said:
        words = "; ".join(said)
        raise ShopError(
            "over_limit",
            f"{words[:1].upper()}{words[1:]}.",
            "Give some another trip, take them off, or tick that it goes all the same.",
            status=422,
        )


urlpatterns = [path("loads/new/", load_new, name="load-new")]
