"""The foreman's page: what came, what is late, benches, holds; the lists behind its counts."""

from datetime import datetime

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone

from spools.errors import not_found
from spools.exports import export
from spools.flow.roles import Role
from spools.flow.steps import STEPS
from spools.models import Person
from spools.models.spools import SpoolQuerySet
from spools.pages.asking import ShopRequest, fresh_key
from spools.pages.live import live
from spools.queries.floor import Counts, OnTheFloor, counts_of, on_the_floor, which_spools
from spools.queries.sort_out import ToDecide, to_decide
from spools.queries.spool_rows import SPOOL_COLUMNS, spool_rows

PAGE = 50
MOST_SHOWN = 7
LISTS = {
    "late": "Late",
    "at_risk": "At risk",
    "due": "Due today",
    "done": "Done today",
    "held": "On hold",
    "rush": "Rush",
    "to_cut": "To cut",
    "to_groove": "To groove",
    "to_bevel": "To bevel",
    "to_weld": "To weld",
    "to_accept": "To accept",
    "not_assigned": "Not on a bench",
    "in_shop": "In the shop",
    "ready": "Ready for coating",
    "at_coating": "At coating",
    "yard": "Back in the yard",
}


@live
def floor(request: ShopRequest, *, polled: bool) -> HttpResponse:
    """Show the floor."""
    at, person = timezone.now(), request.user
    on_floor, counts = on_the_floor(person, at=at), counts_of(person, at=at)
    left = _to_decide(person, on_floor, counts, at)
    context = {
        "at": at,
        "shop": person.the_shop,
        "counts": counts,
        "tray": left[:MOST_SHOWN],
        "tray_more": len(left) - MOST_SHOWN,
        "on_floor": on_floor,
        "unassigned": on_floor.unassigned[:PAGE],
        "sizes": sorted({spool.nps for spool in on_floor.unassigned[:PAGE]}),
        "held": on_floor.held[:PAGE],
        "key": fresh_key(),
        "moved": request.GET.get("moved", "")[:60],
        "is_foreman": person.may(frozenset({Role.FOREMAN})),
        "find_first": True,
    }
    return render(request, "spools/floor/_live.html" if polled else "spools/floor.html", context)


def sort_out(request: ShopRequest) -> HttpResponse:
    """Show everything that waits for the foreman's decision."""
    at, person = timezone.now(), request.user
    left = _to_decide(person, on_the_floor(person, at=at), counts_of(person, at=at), at)
    context = {"tray": left, "key": fresh_key(), "is_foreman": person.may(frozenset({Role.FOREMAN}))}
    return render(request, "spools/sort_out.html", context)


def _to_decide(person: Person, on_floor: OnTheFloor, counts: Counts, at: datetime) -> list[ToDecide]:
    return to_decide(person, [row.spool for row in on_floor.held], not_back=counts.not_back, at=at)


@live
def floor_list(request: ShopRequest, which: str, *, polled: bool) -> HttpResponse:
    """Show one of the foreman's lists."""
    found = _which(request, which)
    context = {
        "which": which,
        "title": LISTS[which],
        "page": Paginator(found, PAGE).get_page(request.GET.get("page")),
        "at": timezone.now(),
        "shop": request.user.the_shop,
        "key": fresh_key(),
        "tap": one_tap_steps(request.user),
    }
    return render(request, "spools/floor/_list.html" if polled else "spools/floor_list.html", context)


def floor_export(request: ShopRequest, which: str, kind: str) -> HttpResponse:
    """Give one of the lists as a file."""
    return export(which, kind, SPOOL_COLUMNS, spool_rows(_which(request, which), request.user.the_shop))


def one_tap_steps(person: Person) -> tuple[str, ...]:
    """Return the steps that this person may record with nothing but a tap."""
    return tuple(step.code for step in STEPS if not step.requires and person.may(step.who))


def _which(request: ShopRequest, which: str) -> SpoolQuerySet:
    if which not in LISTS:
        raise not_found("list of that name")
    return which_spools(which, request.user, at=timezone.now())


urlpatterns = [
    path("floor/", floor, name="floor"),
    path("floor/sort-out/", sort_out, name="sort-out"),
    path("floor/<slug:which>/", floor_list, name="floor-list"),
    path("floor/<slug:which>.<slug:kind>", floor_export, name="floor-export"),
]
