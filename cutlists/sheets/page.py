"""A page in millimeters, y upward: words that never leave their room, stacked lengths, boxes, codes."""

from collections.abc import Callable, Hashable
from typing import Literal

from reportlab.pdfgen.canvas import Canvas

from cutlists.sheets import ink, operators, qr
from cutlists.sheets.figures import stacked
from cutlists.sheets.fonts import CAP_HEIGHT, FIGURE, MM, TEXT, fall, fit, rise, width_mm, wrap
from geometry.drawing.labels import stacked_width_mm
from geometry.drawing.shapes import Drawing, Shape, StackedLength

Anchor = Literal["start", "middle", "end"]
SMALLEST_MM = 1.4  # capitals lower than this can't be read on a shop floor
_FOOT_MM = 3.6  # kept free below a sketch
_MOST_STAMPS = 96  # stamps whose key is remembered; the stamps themselves are in the file already


class Page:
    """What a sheet draws on. Heights of words are heights of their capitals."""

    __slots__ = ("_count", "_stamps", "canvas", "height_mm", "tape", "width_mm")

    def __init__(self, canvas: Canvas, *, width_mm: float, height_mm: float) -> None:
        self.canvas, self.width_mm, self.height_mm, self.tape = canvas, width_mm, height_mm, "1/16"
        self._stamps: dict[Hashable, str] = {}  # the one in longest disuse first
        self._count = 0

    def start(self, *, tape: str) -> None:
        """Turn the fresh page's unit into the millimeter; lengths are written by the tape (a graduation's code)."""
        self.tape = tape
        self.canvas.scale(MM, MM)

    def words(
        self,
        x: float,
        y: float,
        text: str,
        height: float,
        *,
        room: float | None = None,
        anchor: Anchor = "start",
        font: str = TEXT,
        smallest: float = SMALLEST_MM,
    ) -> float:
        """Write one line, shrunk and at last cut to its room; returns its width."""
        most = self.width_mm if room is None else room
        text, size = fit(
            text, font=font, size_mm=height / CAP_HEIGHT, room_mm=most, smallest_mm=min(height, smallest) / CAP_HEIGHT
        )
        wide = width_mm(text, font, size)
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        operators.text(self.canvas, x, y, text, font=font, size=size)
        return wide

    def bold(self, x: float, y: float, text: str, height: float, **how: object) -> float:
        """Write one line in the heavier weight, for figures and marks."""
        return self.words(x, y, text, height, font=FIGURE, **how)  # type: ignore[arg-type]

    def banner(
        self, x: float, top: float, text: str, height: float, *, room: float, smallest: float, below: float = 3.0
    ) -> None:
        """Write a mark in a band of a height: accents stay inside, a long mark is shrunk and stands in its middle.

        ``below`` is what is free under the band: a mark whose letters hang deeper than that is written smaller.
        """
        full, hangs = height / rise(text), fall(text)
        if hangs * full > below:
            full = (height + below) / (rise(text) + hangs)
            height = rise(text) * full
        text, size = fit(
            text, font=FIGURE, size_mm=full / CAP_HEIGHT, room_mm=room, smallest_mm=min(full, smallest) / CAP_HEIGHT
        )
        spare = (full - size * CAP_HEIGHT) / 2
        operators.text(self.canvas, x, top - height + spare, text, font=FIGURE, size=size)

    def paragraph(self, x: float, top: float, text: str, height: float, *, room: float, most_lines: int = 3) -> float:
        """Write words broken into lines below ``top``; returns the height used."""
        leading = 1.75 * height
        lines = wrap(text, font=TEXT, size_mm=height / CAP_HEIGHT, room_mm=room, most_lines=most_lines)
        for number, line in enumerate(lines):
            operators.text(self.canvas, x, top - height - number * leading, line, font=TEXT, size=height / CAP_HEIGHT)
        return leading * (len(lines) - 1) + height

    def length(
        self, x: float, y: float, mm: float, height: float, *, room: float | None = None, anchor: Anchor = "start"
    ) -> float:
        """Write a length with its fraction stacked, shrunk to its room; returns its width."""
        label = stacked(mm, self.tape, height)
        wide = stacked_width_mm(label)
        if room is not None and wide > room:
            label = stacked(mm, self.tape, height * room / wide)
            wide = stacked_width_mm(label)
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        self.shapes((_at(label, x, y),))
        return wide

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.25) -> None:
        """Draw a straight line."""
        operators.pen(self.canvas, width)
        operators.line(self.canvas, x1, y1, x2, y2)

    def box(self, x: float, y: float, width: float, height: float, *, line: float = 0.25) -> None:
        """Draw an empty box."""
        operators.pen(self.canvas, line)
        operators.rectangle(self.canvas, x, y, width, height, paint="S")

    def bar(self, x: float, y: float, width: float, height: float, gray: float = 0.0) -> None:
        """Fill a box; gray of 0 is black."""
        operators.gray(self.canvas, gray)
        operators.rectangle(self.canvas, x, y, width, height, paint="f")
        operators.gray(self.canvas, 0.0)

    def reversed_words(self, x: float, y: float, text: str, height: float, *, pad: float = 1.2) -> float:
        """Write white words on a black bar, ``x, y`` being the bar's lower left corner; returns the bar's width."""
        wide = width_mm(text, FIGURE, height / CAP_HEIGHT) + 2 * pad
        self.bar(x, y, wide, height + 2 * pad)
        operators.gray(self.canvas, 1.0)
        self.bold(x + pad, y + pad, text, height)
        operators.gray(self.canvas, 0.0)
        return wide

    def code(self, code: qr.Code, x: float, y: float, size: float) -> None:
        """Draw a QR code whose dark square has its lower left corner at a point."""
        self.canvas._code.append(qr.path(code.matrix or qr.encode(code.address), x=x, y=y, size=size))

    def shapes(self, shapes: tuple[Shape, ...]) -> None:
        """Draw shapes where they stand."""
        ink.draw_shapes(self.canvas, shapes)

    def drawing(self, drawing: Drawing, x: float, y: float, *, width: float, height: float) -> float:
        """Draw a drawing centered in a box, smaller if it must be; returns the scale it was drawn at."""
        scale = min(1.0, width / drawing.width_mm, height / drawing.height_mm)
        left = x + (width - scale * drawing.width_mm) / 2
        low = y + (height - scale * drawing.height_mm) / 2
        self.canvas.saveState()
        self.canvas.translate(left, low)
        if scale < 1.0:
            self.canvas.scale(scale, scale)
        self.stamp(drawing, lambda page: page.shapes(drawing.shapes), size=(drawing.width_mm, drawing.height_mm))
        self.canvas.restoreState()
        return scale

    def sketch(self, drawing: Drawing, x: float, y: float, *, width: float, height: float) -> None:
        """Draw a to-scale drawing in a box; one that had to be made smaller says that its scale no longer holds."""
        if self.drawing(drawing, x, y + _FOOT_MM, width=width, height=height - _FOOT_MM) < 1.0:
            self.words(x, y + 0.4, "Made smaller to fit: its written scale does not hold, figures do.", 2.2, room=width)

    def stamp(self, key: Hashable, draw: "Callable[[Page], None]", *, size: tuple[float, float] | None = None) -> None:
        """Draw what is the same on several pages: kept once in the file, and known again while it is in recent use.

        ``size`` is the stamp's own, the page's unless said.
        """
        name = self._stamps.pop(key, None)
        if name is None:
            self._count += 1
            name = f"S{self._count}"
            self.canvas.beginForm(name, 0, 0, *(size or (self.width_mm, self.height_mm)))
            draw(self)
            self.canvas.endForm()
        self._stamps[key] = name
        if len(self._stamps) > _MOST_STAMPS:
            del self._stamps[next(iter(self._stamps))]
        self.canvas.doForm(name)


def _at(label: StackedLength, x: float, y: float) -> StackedLength:
    return StackedLength(
        x, y, label.prefix, label.whole, label.numerator, label.denominator, label.suffix, label.height_mm, "start"
    )
