"""Each spool a dot by the day it was accepted, hours up, the promise across: a bad week shows at once."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from geometry.drawing.shapes import Drawing
from spools.turnaround.charts.plot import (
    HEIGHT_MM,
    WIDTH_MM,
    Flag,
    Plot,
    Scale,
    note_width,
    nothing_yet,
    say_day,
    say_hours,
)
from spools.turnaround.clocks import shop_hours
from spools.turnaround.snapshot import Snapshot, is_late

TITLE = "Each accepted spool by day: working hours from received to accepted"
RADIUS_MM = 0.8


@dataclass(frozen=True, slots=True)
class DayNote:
    """What happened on a day: bench down, holiday, rush."""

    day: date
    words: str


@dataclass(frozen=True, slots=True)
class _Dot:
    mark: str
    hours: float
    late: bool


def dots_by_day(
    shop: Snapshot,
    *,
    promise_h: float,
    notes: Sequence[DayNote] = (),
    since: date | None = None,
    lead: Callable[[date], str] | None = None,
    width_mm: float = WIDTH_MM,
    height_mm: float = HEIGHT_MM,
) -> Drawing:
    """Draw a ring for each spool accepted on time and a filled diamond for each accepted late.

    Days before ``since`` are left out. ``lead`` says where a week, by its Monday, leads.
    """
    by_day = {day: dots for day, dots in _by_day(shop).items() if since is None or day >= since}
    if not by_day:
        return nothing_yet(TITLE, "No spool has been accepted yet.", width_mm=width_mm, height_mm=height_mm)
    every = [dot for dots in by_day.values() for dot in dots]
    late = sum(dot.late for dot in every)
    note = f"n = {len(every)} accepted: {len(every) - late} not late (rings), {late} late (diamonds); "
    note += "open ones are not here"
    plot = Plot(TITLE, note, width_mm=width_mm, height_mm=height_mm, right_mm=10.0 + note_width(_promise(promise_h)))
    days = sorted({*shop.calendar.working_days(min(by_day), max(by_day)), *by_day})
    slot = (plot.right_mm - plot.left_mm) / len(days)
    places = {day: plot.left_mm + slot * (number + 0.5) for number, day in enumerate(days)}
    flags = [Flag(places[note.day], note.words, "dim") for note in notes if note.day in places]
    y = Scale(0.0, max(*(dot.hours for dot in every), promise_h) * 1.05, plot.bottom_mm, plot.flags(flags))
    plot.left_axis(y, "hours")
    plot.line((plot.left_mm, y.at(promise_h)), (plot.right_mm + 2.0, y.at(promise_h)), "edge")
    plot.text(plot.right_mm + 3.0, y.at(promise_h) - 1.1, _promise(promise_h))
    for day, dots in by_day.items():
        _swarm(plot, places[day], slot, dots, y)
    plot.day_axis(list(places.items()))
    if lead:
        _weeks_lead(plot, places, slot, lead)
    return plot.finish()


def _weeks_lead(plot: Plot, places: dict[date, float], slot: float, lead: Callable[[date], str]) -> None:
    weeks: dict[date, list[float]] = defaultdict(list)
    for day, x in places.items():
        weeks[day - timedelta(days=day.weekday())].append(x)
    for monday, xs in weeks.items():
        low, high = min(xs) - slot / 2, max(xs) + slot / 2
        plot.leads(low, high, address=lead(monday), words=f"Accepted in the week from {say_day(monday)}")


def _promise(hours: float) -> str:
    return f"promise {say_hours(hours)}"


def _by_day(shop: Snapshot) -> dict[date, list[_Dot]]:
    by_day: dict[date, list[_Dot]] = defaultdict(list)
    for spool in shop.spools:
        elapsed = shop_hours(spool, calendar=shop.calendar, at=shop.at)
        if spool.accepted_at is not None and elapsed is not None:
            by_day[shop.day_of(spool.accepted_at)].append(_Dot(spool.mark, elapsed.amount, is_late(spool, shop.at)))
    return by_day


def _swarm(plot: Plot, x: float, slot: float, dots: list[_Dot], y: Scale) -> None:
    """Set dots of one day side by side where they would lie on each other, never outside the day's own slot."""
    room = max(slot / 2 - RADIUS_MM, 0.0)
    placed: list[tuple[float, float]] = []
    for dot in sorted(dots, key=lambda dot: (dot.hours, dot.mark)):
        up = y.at(dot.hours)
        near = sum(up - other < 2 * RADIUS_MM for _, other in placed)
        side = (near + 1) // 2 * 2.2 * RADIUS_MM * (1 if near % 2 else -1)
        across = min(max(side, -room), room)
        placed.append((across, up))
        plot.dot(x + across, up, radius_mm=RADIUS_MM, filled=dot.late)
