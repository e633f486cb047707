"""The calendar: the week's shifts, closed days and worked days; days that are over are frozen."""

import re
from datetime import time
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.actions.keep_calendar import WHO, Hours, as_the_week, close_day, first_open_day, keep_week, work_day
from spools.errors import ShopError
from spools.models import Shop
from spools.pages.asking import ShopRequest
from spools.pages.setup import say_beside
from spools.queries.setup import own_days

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
SHIFT = re.compile(r"^(\d{1,2}):(\d{2})\s*(?:-|–|to)\s*(\d{1,2}):(\d{2})$")


class HoursField(forms.CharField):
    """Shifts as they are written: ``06:00-14:30, 14:30-23:00``; empty means none."""

    def clean(self, value: Any) -> tuple[Hours, ...]:
        """Return the shifts in order."""
        text = super().clean(value)
        return tuple(sorted(_shift(part.strip()) for part in text.split(",") if part.strip()))


class WeekForm(forms.Form):
    """The shifts of each weekday."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for number, name in enumerate(DAYS):
            self.fields[f"day_{number}"] = HoursField(label=name, max_length=80, required=False)

    def week(self) -> list[tuple[Hours, ...]]:
        """Return the week, Monday first."""
        return [self.cleaned_data[f"day_{number}"] for number in range(7)]


class DayForm(forms.Form):
    """One day that is not as its weekday."""

    day = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    what = forms.ChoiceField(
        label="It is", choices=[("closed", "closed"), ("worked", "worked by its own hours"), ("week", "as its weekday")]
    )
    hours = HoursField(label="Its hours, where it is worked", max_length=80, required=False)
    reason = forms.CharField(label="Why it is closed", max_length=60, required=False)


def setup_calendar(request: ShopRequest) -> HttpResponse:
    """Show the calendar, or change the week."""
    at = timezone.now()
    form = WeekForm(request.POST or None, initial=_written(request.user.the_shop))
    if request.method == "POST" and form.is_valid():
        try:
            frozen = keep_week(by=request.user, week=form.week(), at=at)
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            kept = f" {frozen} days that are over keep the hours they had." if frozen else ""
            messages.success(request, f"The week is kept.{kept} Due times already promised stay as they are.")
            return redirect("setup-calendar")
    return _page(request, form, DayForm())


def setup_day(request: ShopRequest) -> HttpResponse:
    """Close a day, work it by hours of its own, or let it be as its weekday."""
    form = DayForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            words = _keep_day(request, form.cleaned_data)
        except ShopError as trouble:
            say_beside(form, trouble)
        else:
            messages.success(request, words)
            return redirect("setup-calendar")
    return _page(request, WeekForm(initial=_written(request.user.the_shop)), form)


def _keep_day(request: ShopRequest, data: dict[str, Any]) -> str:
    day, at, by = data["day"], timezone.now(), request.user
    if data["what"] == "closed":
        close_day(by=by, day=day, reason=data["reason"], at=at)
        return f"{day:%A %-d %B} is closed."
    if data["what"] == "worked":
        work_day(by=by, day=day, shifts=data["hours"], at=at)
        return f"{day:%A %-d %B} is worked by its own hours."
    as_the_week(by=by, day=day, at=at)
    return f"{day:%A %-d %B} is as its weekday again."


def _page(request: ShopRequest, week: WeekForm, day: DayForm) -> HttpResponse:
    first_open = first_open_day(request.user.the_shop, timezone.now())
    context = {
        "week": week,
        "day": day,
        "own": own_days(request.user, first_open=first_open),
        "first_open": first_open,
        "may_change": request.user.may(WHO),
    }
    return render(request, "spools/setup/calendar.html", context, status=422 if week.errors or day.errors else 200)


def _written(shop: Shop) -> dict[str, str]:
    written: dict[str, str] = {}
    for shift in shop.shifts.all():
        name, text = f"day_{shift.weekday}", f"{shift.start:%H:%M}-{shift.end:%H:%M}"
        written[name] = f"{written[name]}, {text}" if name in written else text
    return written


def _shift(text: str) -> Hours:
    read = SHIFT.match(text)
    try:
        if read:
            return time(int(read[1]), int(read[2])), time(int(read[3]) % 24, int(read[4]))
    except ValueError:
        pass
    raise forms.ValidationError(f"“{text}” is no shift: write it like 06:00-14:30, several with a comma between.")


urlpatterns = [
    path("setup/calendar/", setup_calendar, name="setup-calendar"),
    path("setup/calendar/day/", setup_day, name="setup-day"),
]
