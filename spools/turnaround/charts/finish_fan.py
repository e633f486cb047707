"""The finish forecast: spools left to accept, day by day, so many at most with 50, 85 and 95 percent."""

from collections.abc import Sequence
from datetime import date

from geometry.drawing.shapes import Drawing, Style
from spools.turnaround.charts.plot import HEIGHT_MM, WIDTH_MM, Flag, Plot, Scale, nothing_yet, say_day
from spools.turnaround.forecast import PERCENTS, FanDay, Forecast
from spools.turnaround.past import PastDay

TITLE = "Finish: spools left to accept"
STYLES: tuple[Style, ...] = ("edge", "hidden", "center")


def finish_fan(
    found: Forecast,
    *,
    past: Sequence[PastDay],
    tie_ins: int,
    since: date | None = None,
    width_mm: float = WIDTH_MM,
    height_mm: float = HEIGHT_MM,
) -> Drawing:
    """Draw what was left on each past day and the three lines of what will be left; dates stand on their days.

    Days before ``since`` are counted and not drawn.
    """
    if not found.fan:
        return nothing_yet(TITLE, "Every spool is accepted.", width_mm=width_mm, height_mm=height_mm)
    plot = Plot(TITLE, found.say_basis(), width_mm=width_mm, height_mm=height_mm)
    lefts, left = [], tie_ins
    for row in past:
        left -= row.accepted
        if since is None or row.day >= since:
            lefts.append((row.day, left))
    shown = _until_done(found)
    days = [day for day, _ in lefts] + [row.day for row in shown]
    slot = (plot.right_mm - plot.left_mm) / max(len(days) - 1, 1)
    places = {day: plot.left_mm + slot * number for number, day in enumerate(days)}
    flags = [
        Flag(places[sure.day], f"{sure.percent} % sure {say_day(sure.day)}", style)
        for sure, style in zip(found.accepted, STYLES, strict=True)
        if sure.day in places
    ]
    most = max([left for _, left in lefts] + [row.left[-1] for row in shown] + [4])
    y = Scale(0.0, most, plot.bottom_mm, plot.flags(flags))
    plot.left_axis(y, "left")
    plot.path([(places[day], y.at(count)) for day, count in lefts], "edge")
    for number in range(len(PERCENTS)):
        points = [(places[day], y.at(count)) for day, count in lefts[-1:]]
        points += [(places[row.day], y.at(row.left[number])) for row in shown]
        plot.path(_to_zero(points, y), STYLES[number])
    plot.day_axis(list(places.items()))
    return plot.finish()


def _until_done(found: Forecast) -> tuple[FanDay, ...]:
    last: date | None = found.accepted[-1].day
    return tuple(row for row in found.fan if last is None or row.day <= last)


def _to_zero(points: list[tuple[float, float]], y: Scale) -> list[tuple[float, float]]:
    """End a line where it first touches zero."""
    for number, (_, up) in enumerate(points):
        if up <= y.at(0) + 1e-9:
            return points[: number + 1]
    return points
