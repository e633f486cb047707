"""The shop's calendar and promise as the turnaround clocks read them."""

from collections import defaultdict
from datetime import date

from django.db.models import DateField, IntegerField, TimeField, Value
from django.db.models.functions import Cast

from spools.models import ClosedDay, Shop, WorkedDay
from spools.models import Shift as ShiftRow
from spools.turnaround.promise import PromiseRule
from spools.turnaround.shifts import Calendar, Shift
from spools.turnaround.shifts import WorkedDay as Worked


def calendar_of(shop: Shop) -> Calendar:
    """Return the shop's shifts, closed days and worked days (one query)."""
    no_weekday, no_day = Cast(Value(None), IntegerField()), Cast(Value(None), DateField())
    no_time = Cast(Value(None), TimeField())
    shifts = ShiftRow.objects.filter(shop=shop).order_by().values_list("weekday", no_day, "start", "end")
    worked = WorkedDay.objects.filter(shop=shop).order_by().values_list(no_weekday, "day", "start", "end")
    closed = ClosedDay.objects.filter(shop=shop).order_by().values_list(no_weekday, "day", no_time, no_time)
    weekly: list[list[Shift]] = [[] for _ in range(7)]
    own: dict[date, list[Shift]] = defaultdict(list)
    days_off: set[date] = set()
    for weekday, day, start, end in shifts.union(worked, closed, all=True):
        if day is None:
            weekly[weekday].append(Shift(start, end))
        elif start is None:
            days_off.add(day)
        else:
            own[day].append(Shift(start, end))
    return Calendar(
        shop.time_zone,
        weekly=tuple(_in_order(day) for day in weekly),
        closed=frozenset(days_off),
        worked=tuple(Worked(day, _in_order(rows)) for day, rows in sorted(own.items())),
    )


def _in_order(shifts: list[Shift]) -> tuple[Shift, ...]:
    return tuple(sorted(shifts, key=lambda shift: shift.start))


def promise_of(shop: Shop) -> PromiseRule:
    """Return the shop's promise rule."""
    return PromiseRule(cut_off=shop.cut_off)
