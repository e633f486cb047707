"""The benches' stops of the last six weeks, or of one week, and the hours they cost."""

from datetime import date, datetime, time, timedelta

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils import timezone

from spools.errors import not_found
from spools.models import Person
from spools.pages.asking import ShopRequest
from spools.queries.bench_stops import Lost, by_bench, lost_lately, lost_since
from spools.shop_calendar import calendar_of


def bench_stops(request: ShopRequest) -> HttpResponse:
    """Show what each bench lost, and each stop by itself."""
    at, text = timezone.now(), request.GET.get("week", "")
    monday = _monday(text) if text else None
    lost = _of_week(request.user, monday, at) if monday else lost_lately(request.user, at=at)
    context = {"lost": lost, "benches": by_bench(lost), "at": at, "shop": request.user.the_shop, "monday": monday}
    return render(request, "spools/bench_stops.html", context)


def _of_week(person: Person, monday: date, at: datetime) -> list[Lost]:
    calendar = calendar_of(person.the_shop)
    since = calendar.moment(monday, time(0))
    until = min(at, calendar.moment(monday + timedelta(days=7), time(0)))
    return lost_since(person, since=since, until=until, at=at, calendar=calendar)


def _monday(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise not_found("week of that name") from None
    return day - timedelta(days=day.weekday())


urlpatterns = [path("benches/stops/", bench_stops, name="bench-stops")]
