"""Where the hours go: one bar a step, waiting and working told apart, the longest wait pointed at."""

from collections.abc import Sequence

from geometry.drawing.shapes import Drawing
from spools.turnaround.charts.plot import NOTE_MM, WIDTH_MM, Plot, Scale, note_width, nothing_yet, say_hours
from spools.turnaround.dwell import StepDwell
from spools.turnaround.survival import Spread

TITLE = "Where the hours go: all spools' working hours by step"
ROW_MM = 11.0


def dwell_bars(steps: Sequence[StepDwell], *, width_mm: float = WIDTH_MM) -> Drawing:
    """Draw for each step its hours of waiting (solid), working (hollow) and what can't be told apart (hatched).

    A step that no spool needed is not drawn; one of which no stay is told is said under the chart.
    """
    untold = [f"{step.step} {step.left_out}" for step in steps if step.left_out and not step.told]
    steps = [step for step in steps if step.told]
    height = 26.0 + ROW_MM * len(steps)
    totals = [step.waiting_total_h + step.working.total for step in steps]
    if not any(totals):
        return nothing_yet(TITLE, "No step has been done yet.", width_mm=width_mm, height_mm=height)
    left_out = sum(step.left_out for step in steps)
    note = "solid: waiting; hollow: working; hatched: no start was told, so waiting or working"
    note += f"; {left_out} stays entered later left out" if left_out else ""
    left = 4.0 + max(note_width(step.step) for step in steps) + 2.0
    plot = Plot(TITLE, note, width_mm=width_mm, height_mm=height, left_mm=left)
    x = Scale(0.0, max(totals) * 1.02, plot.left_mm, plot.right_mm)
    worst = max(steps, key=lambda step: step.waiting_total_h)
    for number, step in enumerate(steps):
        _row(plot, step, x, top_mm=plot.top_mm - ROW_MM * number, longest=step is worst)
    many = f"; entered many at once, so no stay is told: {', '.join(untold)}" if untold else ""
    plot.bottom_axis(x, f"working hours in sum{many}")
    return plot.finish()


def _row(plot: Plot, step: StepDwell, x: Scale, *, top_mm: float, longest: bool) -> None:
    low, high = top_mm - 10.0, top_mm - 5.4
    plot.text(plot.left_mm - 2.0, low + 1.2, step.step, anchor="end")
    waiting = step.waiting.total + step.waiting_now_h
    at = 0.0
    for hours, fill in ((waiting, "solid"), (step.unsplit.total, "hatched"), (step.working.total, "hollow")):
        plot.bar((x.at(at), low), (x.at(at + hours), high), fill=fill)
        at += hours
    plot.text(plot.left_mm, high + 1.0, _words(step, longest=longest), height_mm=NOTE_MM)


def _words(step: StepDwell, *, longest: bool) -> str:
    parts = [
        _spread("waiting", step.waiting),
        _spread("working", step.working),
        _spread("stay", step.unsplit),
        f"{step.waiting_now} here now" if step.waiting_now else "",
        "LOOK HERE FIRST" if longest else "",
    ]
    return "; ".join(part for part in parts if part)


def _spread(word: str, hours: Spread) -> str:
    if hours.p50 is None or hours.p85 is None:
        return ""
    return f"{word} median {say_hours(hours.p50)}, P85 {say_hours(hours.p85)} (n = {hours.n})"
