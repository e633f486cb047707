"""The project manager's page: the promise, its figures, and the lists behind them."""

from datetime import date
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import path, reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.safestring import mark_safe

from geometry.drawing.svg import to_svg
from spools.errors import not_found
from spools.exports import export
from spools.pages.asking import ShopRequest, posted_number
from spools.queries.promise import counted_of, promise_of
from spools.queries.promise_charts import charts_of
from spools.queries.promise_lists import LISTS, Narrowed, behind, stopped_then

PAGE = 100
COLUMNS = ("mark", "received", "due", "accepted", "delivered", "next", "whose_move", "cause")


def promise(request: ShopRequest) -> HttpResponse:
    """Show the promise."""
    job = _job(request)
    found = promise_of(request.user, at=timezone.now(), job=job)

    def lead(which: str, /, **narrowed: str) -> str:
        return _address(which, {"job": str(job)} | narrowed if job else narrowed)

    charts = charts_of(found, lead=lead)
    context = {
        "promise": found,
        "counted": found.counted,
        "charts": {name: mark_safe(to_svg(chart)) for name, chart in charts.items()},  # noqa: S308  our writer escapes
        "job": f"job={job}" if job else "",
        "to": {which: lead(which) for which in LISTS},
    }
    return render(request, "spools/promise.html", context)


def promise_list(request: ShopRequest, which: str) -> HttpResponse:
    """Show the spools behind a figure."""
    title, narrowed = _title(which), _narrowed(request)
    counted = counted_of(request.user, at=timezone.now(), job=_job(request))
    rows = behind(counted, which, narrowed)
    context = {
        "title": title,
        "narrowed": narrowed.say(),
        "which": which,
        "page": Paginator(rows, PAGE).get_page(request.GET.get("page")),
        "rows": len(rows),
        "stops": stopped_then(request.user, counted, narrowed, rows),
        "counted": counted,
        "query": urlencode({name: request.GET[name] for name in request.GET if name != "page"}),
        "job": f"job={counted.scope.chosen.id}" if counted.scope.chosen else "",
    }
    return render(request, "spools/promise_list.html", context)


def promise_export(request: ShopRequest, which: str, kind: str) -> HttpResponse:
    """Give the spools behind a figure as a file."""
    _title(which)
    counted = counted_of(request.user, at=timezone.now(), job=_job(request))
    zone = request.user.the_shop.zone

    def local(at: Any) -> Any:
        return at.astimezone(zone) if at else None

    rows = (
        (
            spool.mark,
            local(spool.received_at),
            local(spool.due_at),
            local(spool.accepted_at),
            local(spool.delivered_at),
            spool.next_step,
            spool.whose_move,
            spool.cause,
        )
        for spool in behind(counted, which, _narrowed(request))
    )
    return export(f"promise-{which}", kind, COLUMNS, rows)


def _address(which: str, narrowed: dict[str, str]) -> str:
    address = reverse("promise-list", args=[which])
    return f"{address}?{urlencode(narrowed)}" if narrowed else address


def _job(request: ShopRequest) -> int | None:
    text = request.GET.get("job", "")
    return posted_number(text) if text else None


def _title(which: str) -> str:
    if which not in LISTS:
        raise not_found("list of that name")
    return LISTS[which]


def _narrowed(request: ShopRequest) -> Narrowed:
    return Narrowed(
        due_week=_day(request, "due_week"),
        accepted_week=_day(request, "accepted_week"),
        accepted_on=_day(request, "accepted_on"),
        cause=request.GET.get("cause", "")[:80],
        jig=request.GET.get("jig", "")[:20],
    )


def _day(request: ShopRequest, name: str) -> date | None:
    text = request.GET.get(name, "")
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise not_found("day of that name") from None


urlpatterns = [
    path("promise/", promise, name="promise"),
    path("promise/<slug:which>/", promise_list, name="promise-list"),
    path("promise/<slug:which>.<slug:kind>", promise_export, name="promise-export"),
]
