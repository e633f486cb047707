"""The pictures of the promise, the same for screen and paper; on a screen their weeks lead to lists."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Protocol

from geometry.drawing.shapes import Drawing
from spools.queries.promise import Promise
from spools.turnaround.charts.aging_bars import aging_bars
from spools.turnaround.charts.dots import DayNote, dots_by_day
from spools.turnaround.charts.dwell_bars import dwell_bars
from spools.turnaround.charts.finish_fan import finish_fan
from spools.turnaround.charts.flow_lines import flow_lines
from spools.turnaround.charts.histogram import shop_clock_histogram
from spools.turnaround.charts.on_time_bars import on_time_bars
from spools.turnaround.charts.plot import HEIGHT_MM
from spools.turnaround.past import past_days
from spools.turnaround.wip import daily_flow

STAGES = ("measured", "cut", "welded", "accepted", "at coating", "back from coating", "delivered")
WINDOW_DAYS = 42


class Lead(Protocol):
    """Says the address of the list behind a figure, narrowed or not."""

    def __call__(self, which: str, /, **narrowed: str) -> str:
        """Return the address."""


def charts_of(promise: Promise, *, lead: Lead | None = None, height_mm: float = HEIGHT_MM) -> dict[str, Drawing]:
    """Return the charts by name; ``lead`` says where their weeks lead.

    ``height_mm`` is for those whose height is free: the others have a row for each step or spool.
    """
    shop, day_h = promise.snapshot, promise.clock.day_h
    last, since = shop.day_of(promise.at), _first_day(promise)
    past, notes = past_days(shop), _notes(promise)
    first = max(last - timedelta(days=WINDOW_DAYS), min((d.day for d in past), default=last))
    flow = daily_flow(shop, stages=STAGES, first=first, last=last, before=promise.left_out)
    due, accepted = _leads(lead, "due", "due_week"), _leads(lead, "accepted", "accepted_week")
    charts = {
        "on_time": on_time_bars(promise.on_time, lead=due, height_mm=height_mm),
        "clock": shop_clock_histogram(promise.clock, promise_h=day_h),
        "dots": dots_by_day(shop, promise_h=day_h, notes=notes, since=since, lead=accepted, height_mm=height_mm),
        "dwell": dwell_bars(promise.dwell),
        "aging": aging_bars(promise.aging, promise_h=day_h),
        "flow": flow_lines(flow, stages=STAGES, notes=notes),
    }
    if promise.forecast:
        left = promise.tie_ins - promise.left_out
        charts["finish"] = finish_fan(promise.forecast, past=past, tie_ins=left, since=since, height_mm=height_mm)
    return charts


def _leads(lead: Lead | None, which: str, by: str) -> Callable[[date], str] | None:
    """Return where a week, by its Monday, leads."""
    if lead is None:
        return None
    return lambda monday: lead(which, **{by: monday.isoformat()})


def _first_day(promise: Promise) -> date | None:
    since = promise.counted.scope.since
    return promise.snapshot.day_of(since) if since else None


def _notes(promise: Promise) -> tuple[DayNote, ...]:
    """Return what stands at days of the charts: which bench went down, and the hours it lost."""
    return tuple(DayNote(lost.day, lost.short) for lost in reversed(promise.stops))
