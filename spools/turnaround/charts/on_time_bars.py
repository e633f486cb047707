"""On time by due week: what came due as a bar, what was on time as its solid part."""

from collections.abc import Callable
from datetime import date

from geometry.drawing.shapes import Drawing
from spools.turnaround.charts.plot import HEIGHT_MM, NOTE_MM, WIDTH_MM, Plot, Scale, note_width, nothing_yet, say_day
from spools.turnaround.figures import DueWeek, OnTime
from spools.turnaround.shares import wilson

TITLE = "On time by the week in which spools were due"
MOST_WEEKS = 12


def on_time_bars(
    found: OnTime,
    *,
    lead: Callable[[date], str] | None = None,
    width_mm: float = WIDTH_MM,
    height_mm: float = HEIGHT_MM,
) -> Drawing:
    """Draw the last 12 due weeks with counts, and from 20 spools up the percent and its 95 % range.

    ``lead`` says where a week leads.
    """
    if not found.by_week:
        return nothing_yet(TITLE, "Nothing has come due yet.", width_mm=width_mm, height_mm=height_mm)
    weeks = found.by_week[-MOST_WEEKS:]
    note = f"{found.share.say()}; open late ones ({len(found.open_late)}) are misses, "
    note += f"{found.not_yet_due} not yet due left out"
    plot = Plot(TITLE, note, width_mm=width_mm, height_mm=height_mm)
    y = Scale(0.0, max(week.share.n for week in weeks), plot.bottom_mm, plot.top_mm - 10.0)
    plot.left_axis(y, "spools")
    slot = min((plot.right_mm - plot.left_mm) / len(weeks), 45.0)
    for number, week in enumerate(weeks):
        start = plot.left_mm + slot * number
        _week(plot, week, y, middle_mm=start + slot / 2, slot_mm=slot)
        if lead:
            words = f"Week from {say_day(week.monday)}: {week.share.say()}"
            plot.leads(start, start + slot, address=lead(week.monday), words=words)
    plot.base_line()
    plot.text(
        (plot.left_mm + plot.right_mm) / 2, 1.6, "week from Monday; solid: on time; hollow: late", anchor="middle"
    )
    return plot.finish()


def _week(plot: Plot, week: DueWeek, y: Scale, *, middle_mm: float, slot_mm: float) -> None:
    half = min(slot_mm * 0.3, 9.0)
    share = week.share
    plot.bar((middle_mm - half, y.at(0)), (middle_mm + half, y.at(share.hits)), fill="solid")
    plot.bar((middle_mm - half, y.at(share.hits)), (middle_mm + half, y.at(share.n)), fill="hollow")
    plot.label(middle_mm, y.at(share.n) + 1.2, f"{share.hits} of {share.n}")
    if share.percent is not None:
        low, high = wilson(share.hits, share.n)
        words = f"{share.percent} % ({low * 100:.0f}–{high * 100:.0f})"
        short = words if note_width(words) < slot_mm - 1.5 else f"{share.percent} %"
        plot.label(middle_mm, y.at(share.n) + 1.2 + 1.6 * NOTE_MM, short, style="figure")
    plot.text(middle_mm, plot.bottom_mm - 4.2, say_day(week.monday), anchor="middle")
