"""How the shop clock lies: a histogram with percentile lines and the promise, open work shown beside finished."""

from geometry.drawing.shapes import Drawing
from spools.turnaround.charts.plot import (
    HEIGHT_MM,
    WIDTH_MM,
    Flag,
    Plot,
    Scale,
    nothing_yet,
    round_step,
    say_hours,
)
from spools.turnaround.figures import ShopClock

TITLE = "Shop clock: working hours from received to accepted"
MOST_BARS = 30


def shop_clock_histogram(
    clock: ShopClock, *, promise_h: float, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> Drawing:
    """Draw finished spools as solid bars and open ones, by their age so far, as hollow bars on top.

    Percentile lines come from the curve that counts open work; one that can't be told yet is said so in the note.
    Ages beyond the last bar stand together in it.
    """
    every = clock.finished_h + clock.open_h
    if not every:
        return nothing_yet(TITLE, "No spool has started its clock yet.", width_mm=width_mm, height_mm=height_mm)
    lines = [(percent, clock.curve.percentile(percent)) for percent in (50, 85, 95)]
    plot = Plot(TITLE, _note(clock, lines), width_mm=width_mm, height_mm=height_mm)
    known = [hours for _, hours in lines if hours is not None]
    wanted = max([promise_h * 1.25, *(hours * 1.15 for hours in known), min(max(every), 3 * promise_h)])
    bin_h = round_step(wanted / MOST_BARS)
    bars = int(wanted // bin_h) + 1
    finished, still_open = _counts(clock.finished_h, bin_h, bars), _counts(clock.open_h, bin_h, bars)
    x = Scale(0.0, bars * bin_h, plot.left_mm, plot.right_mm)
    flags = [Flag(x.at(hours), f"P{percent} {say_hours(hours)}") for percent, hours in lines if hours is not None]
    flags.append(Flag(x.at(promise_h), f"promise {say_hours(promise_h)}", "edge"))
    top = max(a + b for a, b in zip(finished, still_open, strict=True))
    y = Scale(0.0, max(top, 4), plot.bottom_mm, plot.flags(flags))
    plot.left_axis(y, "spools")
    for number, (done, going) in enumerate(zip(finished, still_open, strict=True)):
        left, right = x.at(number * bin_h) + 0.2, x.at((number + 1) * bin_h) - 0.2
        plot.bar((left, y.at(0)), (right, y.at(done)), fill="solid")
        plot.bar((left, y.at(done)), (right, y.at(done + going)), fill="hollow")
    plot.bottom_axis(x, _axis_words(every, bars * bin_h))
    return plot.finish()


def _counts(hours: tuple[float, ...], bin_h: float, bars: int) -> list[int]:
    counts = [0] * bars
    for value in hours:
        counts[min(int(value / bin_h), bars - 1)] += 1
    return counts


def _note(clock: ShopClock, lines: list[tuple[int, float | None]]) -> str:
    note = f"n = {len(clock.finished_h)} accepted (solid), {len(clock.open_h)} still open by age so far (hollow)"
    unknown = [f"P{percent}" for percent, hours in lines if hours is None]
    return f"{note}; {' and '.join(unknown)} not known yet: too much is open" if unknown else note


def _axis_words(every: tuple[float, ...], high: float) -> str:
    beyond = sum(hours >= high for hours in every)
    return f"working hours ({beyond} beyond {high:.0f} h in the last bar)" if beyond else "working hours"
