"""The paper under a chart: scales with round ticks, axes, and labels that never lie on each other."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil, floor, log10

from geometry.drawing.labels import text_width_mm
from geometry.drawing.shapes import Anchor, Arc, Drawing, Line, Place, Polyline, Shape, Style, Text

NOTE_MM = 2.2  # height of a capital: 3.1 mm type, read at a desk
TITLE_MM = 2.9
ROW_MM = 4.2  # one row of notes
GAP_MM = 1.2  # clear space beside a label
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WIDTH_MM, HEIGHT_MM = 180.0, 82.0


def say_day(day: date) -> str:
    """Write a day as it is written in the shop: Nov 2."""
    return f"{MONTHS[day.month - 1]} {day.day}"


def say_hours(hours: float) -> str:
    """Write hours with a tenth below 10 and whole above."""
    return f"{hours:.1f} h" if hours < 9.95 else f"{hours:.0f} h"


def note_width(text: str) -> float:
    """Return how wide a note is, in mm."""
    return text_width_mm(text, height_mm=NOTE_MM)


@dataclass(frozen=True, slots=True)
class Scale:
    """Values from ``low`` to ``high`` laid along the paper from ``start_mm`` to ``end_mm``."""

    low: float
    high: float
    start_mm: float
    end_mm: float

    def at(self, value: float) -> float:
        """Return where a value lies, in mm."""
        return self.start_mm + (value - self.low) / (self.high - self.low) * (self.end_mm - self.start_mm)

    def ticks(self, *, apart_mm: float) -> list[float]:
        """Return round values no nearer to each other than ``apart_mm``."""
        most = max(int(abs(self.end_mm - self.start_mm) // apart_mm), 1)
        step = round_step((self.high - self.low) / most)
        first = ceil(self.low / step - 1e-9)
        return [step * number for number in range(first, floor(self.high / step + 1e-9) + 1)]


def round_step(rough: float) -> float:
    """Return the next 1, 2 or 5 times a power of ten, at least 1: hours and spools need no finer."""
    if rough <= 1:
        return 1.0
    power = 10.0 ** floor(log10(rough) + 1e-9)
    return next(power * part for part in (1, 2, 5, 10) if power * part >= rough - 1e-9)


@dataclass(frozen=True, slots=True)
class Flag:
    """A word that stands at a place along the axis, on top of an upright line."""

    at_mm: float
    words: str
    style: Style = "hidden"


class Plot:
    """A chart being drawn: a field between margins with a title line and a note line above it."""

    def __init__(
        self, title: str, note: str, *, width_mm: float, height_mm: float, left_mm: float = 14.0, right_mm: float = 8.0
    ) -> None:
        self.title, self.width_mm, self.height_mm = title, width_mm, height_mm
        self.left_mm, self.right_mm = left_mm, width_mm - right_mm
        self.bottom_mm, self.top_mm = 11.0, height_mm - 13.0
        self.shapes: list[Shape] = []
        self.places: list[Place] = []
        self.text(2.0, height_mm - 5.0, title, height_mm=TITLE_MM, style="figure")
        self.text(2.0, height_mm - 10.0, note)

    def text(
        self,
        x_mm: float,
        y_mm: float,
        words: str,
        *,
        anchor: Anchor = "start",
        height_mm: float = NOTE_MM,
        style: Style = "note",
    ) -> None:
        """Write a line of words."""
        if words:
            self.shapes.append(Text(x_mm, y_mm, words, height_mm, anchor, style=style))

    def label(self, x_mm: float, y_mm: float, words: str, *, style: Style = "note") -> None:
        """Write words in the middle of a place inside the field, with the fine lines behind them taken out."""
        half = text_width_mm(words, height_mm=NOTE_MM, style=style) / 2 + 0.4
        low, high = y_mm - 0.6, y_mm + NOTE_MM + 0.6
        corners = ((x_mm - half, low), (x_mm + half, low), (x_mm + half, high), (x_mm - half, high))
        self.shapes.append(Polyline(corners, "paper", closed=True))
        self.text(x_mm, y_mm, words, anchor="middle", style=style)

    def line(self, start: tuple[float, float], end: tuple[float, float], style: Style) -> None:
        """Draw a straight line."""
        self.shapes.append(Line(*start, *end, style))

    def path(self, points: Sequence[tuple[float, float]], style: Style) -> None:
        """Draw straight lines from point to point, unless there is only one."""
        if len(points) > 1:
            self.shapes.append(Polyline(tuple(points), style))

    def bar(self, low: tuple[float, float], high: tuple[float, float], *, fill: str) -> None:
        """Draw a bar between two corners: ``solid``, ``hatched`` or ``hollow``; nothing if it has no size."""
        (x1, y1), (x2, y2) = low, high
        if x2 - x1 < 1e-6 or y2 - y1 < 1e-6:
            return
        corners = ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
        if fill == "solid":
            self.shapes.append(Polyline(corners, "ink", closed=True))
            return
        if fill == "hatched":
            self._hatch(low, high)
        self.shapes.append(Polyline(corners, "thin", closed=True))

    def _hatch(self, low: tuple[float, float], high: tuple[float, float]) -> None:
        """Draw 45 degree lines every 1.2 mm within a bar."""
        (x1, y1), (x2, y2) = low, high
        offset = x1 - (y2 - y1) + 1.2
        while offset < x2:
            start = (max(offset, x1), y1 + max(x1 - offset, 0.0))
            end_x = min(offset + (y2 - y1), x2)
            self.line(start, (end_x, y1 + end_x - offset), "hatch")
            offset += 1.2

    def dot(self, x_mm: float, y_mm: float, *, radius_mm: float, filled: bool) -> None:
        """Draw a ring, or a filled diamond: told apart by shape in any ink."""
        if filled:
            r = radius_mm * 1.25
            points = ((x_mm, y_mm - r), (x_mm + r, y_mm), (x_mm, y_mm + r), (x_mm - r, y_mm))
            self.shapes.append(Polyline(points, "ink", closed=True))
        else:
            self.shapes.append(Arc(x_mm, y_mm, radius_mm, 0.0, 360.0, "thin"))

    def leads(self, low_mm: float, high_mm: float, *, address: str, words: str) -> None:
        """Let a stretch of the chart, from its foot to its top, lead somewhere."""
        foot = 2.0
        self.places.append(Place(low_mm, foot, high_mm - low_mm, self.height_mm - 13.0 - foot, address, words))

    def left_axis(self, scale: Scale, unit: str) -> None:
        """Draw round ticks with their fine lines across, and the unit beside them."""
        for value in scale.ticks(apart_mm=7.0):
            y = scale.at(value)
            self.line((self.left_mm, y), (self.right_mm, y), "grid")
            self.text(self.left_mm - GAP_MM, y - NOTE_MM / 2, f"{value:,.0f}", anchor="end")
        middle = (scale.start_mm + scale.end_mm) / 2
        self.shapes.append(Text(1.5 + NOTE_MM, middle, unit, NOTE_MM, "middle", 90.0))

    def base_line(self) -> None:
        """Draw the line that the chart stands on."""
        self.line((self.left_mm, self.bottom_mm), (self.right_mm, self.bottom_mm), "thin")

    def bottom_axis(self, scale: Scale, words: str) -> None:
        """Draw round ticks under the chart, and what they count."""
        self.base_line()
        for value in scale.ticks(apart_mm=12.0):
            x = scale.at(value)
            self.line((x, self.bottom_mm), (x, self.bottom_mm - 1.0), "thin")
            self.text(x, self.bottom_mm - 4.2, f"{value:,.0f}", anchor="middle")
        self.text((self.left_mm + self.right_mm) / 2, 1.6, words, anchor="middle")

    def day_axis(self, places: Sequence[tuple[date, float]]) -> None:
        """Write as many days under the chart as there is room for."""
        self.base_line()
        free_from = 0.0
        for day, x in places:
            self.line((x, self.bottom_mm), (x, self.bottom_mm - 1.0), "thin")
            half = note_width(say_day(day)) / 2
            if x - half >= free_from and x + half <= self.width_mm:
                self.text(x, self.bottom_mm - 4.2, say_day(day), anchor="middle")
                free_from = x + half + 2 * GAP_MM

    def flags(self, flags: Sequence[Flag]) -> float:
        """Draw upright lines with their words on top, in as many rows as it takes; return where the field ends."""
        spots = flag_spots(flags, right_mm=self.width_mm - GAP_MM)
        field_top = self.top_mm - ROW_MM * (max((spot.row for spot in spots), default=-1) + 1)
        for flag, spot in zip(flags, spots, strict=True):
            y = field_top + ROW_MM * spot.row
            self.line((flag.at_mm, self.bottom_mm), (flag.at_mm, y + NOTE_MM + 0.8), flag.style)
            side = -GAP_MM if spot.hangs_left else GAP_MM
            self.text(flag.at_mm + side, y + 0.8, flag.words, anchor="end" if spot.hangs_left else "start")
        return field_top - 1.5

    def finish(self) -> Drawing:
        """Return the drawing."""
        return Drawing(self.width_mm, self.height_mm, tuple(self.shapes), self.title, places=tuple(self.places))


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a flag's words stand: in which row, 0 the lowest, and on which side of their line."""

    row: int
    hangs_left: bool
    low_mm: float
    high_mm: float


def flag_spots(flags: Sequence[Flag], *, right_mm: float) -> list[Spot]:
    """Return where each flag's words stand so that neither words nor lines meet other words.

    Words hang right of their line, unless the sheet ends there or the line of a flag that hangs left stands there.
    Those that hang right are set from right to left, then the others from left to right: so each one crosses only
    lines that already are there, and goes one row above them.
    """
    spans = _spans(flags, right_mm)
    rightward = [index for index in reversed(_by_place(flags)) if not spans[index].hangs_left]
    leftward = [index for index in _by_place(flags) if spans[index].hangs_left]
    placed: dict[int, Spot] = {}
    for index in rightward + leftward:
        row = 0
        while any(_meet(replace(spans[index], row=row), flags[other], spot) for other, spot in placed.items()):
            row += 1
        placed[index] = replace(spans[index], row=row)
    return [placed[index] for index in range(len(flags))]


def _by_place(flags: Sequence[Flag]) -> list[int]:
    return sorted(range(len(flags)), key=lambda index: flags[index].at_mm)


def _spans(flags: Sequence[Flag], right_mm: float) -> dict[int, Spot]:
    limit, spans = right_mm, {}
    for index in reversed(_by_place(flags)):
        at, width = flags[index].at_mm, note_width(flags[index].words) + 2 * GAP_MM
        hangs_left = at + width > limit
        spans[index] = Spot(0, hangs_left, at - width, at) if hangs_left else Spot(0, hangs_left, at, at + width)
        limit = at if hangs_left else limit
    return spans


def _meet(mine: Spot, other: Flag, its: Spot) -> bool:
    """Tell whether my words would meet another flag's words in their row, or its line as it passes my row."""
    same_row = mine.row == its.row and mine.low_mm < its.high_mm and its.low_mm < mine.high_mm
    return same_row or (mine.row <= its.row and mine.low_mm < other.at_mm < mine.high_mm)


def spread_out(places: Sequence[float], *, apart_mm: float, low_mm: float, high_mm: float) -> list[float]:
    """Return the places moved as little as needed to be that far apart and inside the field, in the same order.

    Of two at one place the later one goes lower.
    """
    order = sorted(range(len(places)), key=lambda index: (places[index], -index))
    moved = list(places)
    floor_mm = low_mm
    for index in order:
        moved[index] = max(places[index], floor_mm)
        floor_mm = moved[index] + apart_mm
    ceiling_mm = high_mm
    for index in reversed(order):
        moved[index] = min(moved[index], ceiling_mm)
        ceiling_mm = moved[index] - apart_mm
    return moved


def nothing_yet(title: str, words: str, *, width_mm: float, height_mm: float) -> Drawing:
    """Return the empty chart that says why it is empty."""
    return Plot(title, words, width_mm=width_mm, height_mm=height_mm).finish()
