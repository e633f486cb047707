"""Open work by age, oldest on top, with whose move it is in words."""

from collections.abc import Sequence

from geometry.drawing.shapes import Drawing
from spools.turnaround.aging import OpenSpool, Standing
from spools.turnaround.charts.plot import WIDTH_MM, Plot, Scale, note_width, nothing_yet, say_hours

TITLE = "Open work by age, oldest first: working hours since received"
ROW_MM = 6.0
MOST_ROWS = 10
FILLS: dict[Standing, str] = {"late": "solid", "at risk": "hatched", "in time": "hollow", "not started": "hollow"}


def aging_bars(
    spools: Sequence[OpenSpool], *, promise_h: float, width_mm: float = WIDTH_MM, rows: int = MOST_ROWS
) -> Drawing:
    """Draw the oldest open spools: late solid, at risk hatched, in time hollow, each with whose move it is."""
    shown = spools[:rows]
    height = 26.0 + ROW_MM * max(len(shown), 1)
    if not shown:
        return nothing_yet(TITLE, "Nothing is open.", width_mm=width_mm, height_mm=height)
    note = f"{len(shown)} oldest of n = {len(spools)} open; solid: late; hatched: at risk; hollow: in time"
    words = [_words(spool) for spool in shown]
    left = 4.0 + max(note_width(spool.mark) for spool in shown) + 2.0
    right = min(max(map(note_width, words)) + 6.0, width_mm * 0.55)
    plot = Plot(TITLE, note, width_mm=width_mm, height_mm=height, left_mm=left, right_mm=right)
    x = Scale(0.0, max(*(spool.shop_h for spool in shown), promise_h) * 1.02, plot.left_mm, plot.right_mm)
    for number, (spool, said) in enumerate(zip(shown, words, strict=True)):
        low = plot.top_mm - ROW_MM * (number + 1)
        plot.text(plot.left_mm - 2.0, low + 0.9, spool.mark, anchor="end", style="figure")
        plot.bar((plot.left_mm, low), (x.at(spool.shop_h), low + 4.0), fill=FILLS[spool.standing])
        plot.text(plot.right_mm + 3.0, low + 0.9, _cut(said, right - 4.0))
    plot.bottom_axis(x, "")
    promise = x.at(promise_h)
    plot.line((promise, plot.bottom_mm), (promise, plot.top_mm), "edge")
    words_at = min(
        max(promise, note_width(_promise(promise_h)) / 2 + 1.0), width_mm - note_width(_promise(promise_h)) / 2 - 1.0
    )
    plot.text(words_at, 1.6, _promise(promise_h), anchor="middle")
    return plot.finish()


def _promise(hours: float) -> str:
    return f"working hours; upright line: promise {say_hours(hours)}"


def _words(spool: OpenSpool) -> str:
    late = f"late by {say_hours(spool.late_h)}" if spool.standing == "late" else spool.standing
    return ", ".join(part for part in (late, spool.whose_move and f"up to {spool.whose_move}", spool.reason) if part)


def _cut(words: str, room_mm: float) -> str:
    """Shorten words that don't fit; the list beside the chart has them whole."""
    while note_width(words) > room_mm and len(words) > 1:
        words = words[:-2].rstrip() + "…"
    return words
