"""Work in progress by day: cumulative lines, one a stage; what lies between two lines is waiting or in work."""

from collections.abc import Sequence

from geometry.drawing.shapes import Drawing, Style
from spools.turnaround.charts.dots import DayNote
from spools.turnaround.charts.plot import (
    HEIGHT_MM,
    NOTE_MM,
    WIDTH_MM,
    Flag,
    Plot,
    Scale,
    note_width,
    nothing_yet,
    spread_out,
)
from spools.turnaround.wip import FlowDay

TITLE = "Work in progress: spools that had reached each stage by the end of the day"


def flow_lines(
    flow: Sequence[FlowDay],
    *,
    stages: Sequence[str],
    notes: Sequence[DayNote] = (),
    width_mm: float = WIDTH_MM,
    height_mm: float = HEIGHT_MM,
) -> Drawing:
    """Draw a line for each stage through its count at each day's end, with its name and last count at the right.

    The lowest count of the window stands at the bottom, so that a late window still shows its gaps.
    """
    if not flow or not flow[-1].reached[0]:
        return nothing_yet(TITLE, "Nothing has been measured yet.", width_mm=width_mm, height_mm=height_mm)
    labels = [f"{stage} {count}" for stage, count in zip(stages, flow[-1].reached, strict=True)]
    note = (
        f"n = {flow[-1].reached[0]} tie-ins measured; the gap under a line is what waits for, or is in, the next stage"
    )
    plot = Plot(TITLE, note, width_mm=width_mm, height_mm=height_mm, right_mm=9.0 + max(map(note_width, labels)))
    slot = (plot.right_mm - plot.left_mm) / max(len(flow) - 1, 1)
    places = {row.day: plot.left_mm + slot * number for number, row in enumerate(flow)}
    flags = [Flag(places[note.day], note.words, "dim") for note in notes if note.day in places]
    lowest, highest = flow[0].reached[-1], flow[-1].reached[0]
    y = Scale(lowest, max(highest, lowest + 4), plot.bottom_mm, plot.flags(flags))
    plot.left_axis(y, "spools")
    plot.day_axis(list(places.items()))
    ends = [y.at(count) for count in flow[-1].reached]
    beside = spread_out(ends, apart_mm=NOTE_MM * 1.5, low_mm=plot.bottom_mm, high_mm=plot.top_mm)
    for stage, (end, label_at) in enumerate(zip(ends, beside, strict=True)):
        style: Style = "edge" if stage in {0, len(stages) - 1} else "thin"
        plot.path([(places[row.day], y.at(row.reached[stage])) for row in flow], style)
        plot.line((plot.right_mm, end), (plot.right_mm + 4.0, label_at), "hatch")
        plot.text(plot.right_mm + 5.0, label_at - NOTE_MM / 2, labels[stage])
    return plot.finish()
