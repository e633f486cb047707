"""Notes what the sheets ask of their canvas, and draws the same on a bare one: the floor of the paper benchmarks."""

import io
from collections.abc import Callable
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from cutlists.sheets import frame, operators, qr, stream, ticket
from cutlists.sheets import page as page_module
from cutlists.sheets.fonts import MM
from cutlists.sheets.frame import Paper

Call = tuple[str, tuple[Any, ...], dict[str, Any]]
RECORDED = ("translate", "scale", "saveState", "restoreState", "setLineCap", "setLineJoin", "showPage")
WRITTEN = ("text", "line", "polyline", "arc", "rectangle", "pen", "dashes", "gray")


class Recorder(Canvas):
    """A canvas that notes what was asked of it; forms are noted as if drawn on every page."""

    calls: list[Call]

    def __init__(self, *args: Any, **kw: Any) -> None:
        self.calls, self.depth, self.forms = [], 0, {}
        super().__init__(*args, **kw)
        self.calls.clear()

    def beginForm(self, name: str, *args: Any, **kw: Any) -> None:  # noqa: N802
        super().beginForm(name, *args, **kw)
        self.outside, self.calls, self.form = self.calls, [], name

    def endForm(self, **kw: Any) -> None:  # noqa: N802
        self.forms[self.form] = self.calls
        self.calls = self.outside
        super().endForm(**kw)

    def doForm(self, name: str) -> None:  # noqa: N802
        self.calls += [("saveState", (), {}), *self.forms[name], ("restoreState", (), {})]
        super().doForm(name)

    def clipPath(self, path: Any, *args: Any, **kw: Any) -> None:  # noqa: N802
        self.calls.append(("clip", (path.box,), kw))
        super().clipPath(path, *args, **kw)

    def beginPath(self) -> Any:  # noqa: N802
        path = super().beginPath()
        real = path.rect

        def rect(*box: float) -> None:
            path.box = box
            real(*box)

        path.rect = rect
        return path


def _recorded(name: str) -> Callable[..., Any]:
    def call(self: Recorder, *args: Any, **kw: Any) -> Any:
        if not self.depth:
            self.calls.append((name, args, kw))
        self.depth += 1
        try:
            return getattr(Canvas, name)(self, *args, **kw)
        finally:
            self.depth -= 1

    return call


for _name in RECORDED:
    setattr(Recorder, _name, _recorded(_name))


def _written(name: str, real: Callable[..., None]) -> Callable[..., None]:
    def call(canvas: Recorder, *args: Any, **kw: Any) -> None:
        canvas.calls.append((name, args, kw))
        real(canvas, *args, **kw)

    return call


def record(write: Callable[[io.BytesIO], int]) -> list[Call]:
    """Return what a writer asks of its canvas."""
    kept: list[Recorder] = []
    real = (stream.Canvas, page_module.Page.code, stream.open_canvas)
    real_operators = {name: getattr(operators, name) for name in WRITTEN}

    def code(self: page_module.Page, code: qr.Code, x: float, y: float, size: float) -> None:
        self.canvas.calls.append(("qr", (code.matrix, x, y, size), {}))

    def opened(*args: Any, **kw: Any) -> Recorder:
        kept.append(real[2](*args, **kw))
        return kept[-1]

    stream.Canvas, page_module.Page.code = Recorder, code
    ticket.open_canvas = frame.open_canvas = opened
    for name, function in real_operators.items():
        setattr(operators, name, _written(name, function))
    try:
        write(io.BytesIO())
    finally:
        stream.Canvas, page_module.Page.code = real[:2]
        ticket.open_canvas = frame.open_canvas = real[2]
        for name, function in real_operators.items():
            setattr(operators, name, function)
    return kept[-1].calls


def replay(calls: list[Call], out: io.BytesIO, paper: Paper) -> None:
    """Draw the same on a bare canvas, with reportlab's own calls."""
    canvas = Canvas(out, pagesize=(paper.width_mm * MM, paper.height_mm * MM), invariant=1, pageCompression=1)
    for name, args, kw in calls:
        drawn = _BARE.get(name)
        if drawn:
            drawn(canvas, *args, **kw)
        else:
            getattr(canvas, name)(*args, **kw)
    canvas.save()


def _text(c: Canvas, x: float, y: float, words: str, *, font: str, size: float, turned: Any = (1.0, 0.0)) -> None:
    c.setFont(font, size)
    if not turned[1]:
        c.drawString(x, y, words)
        return
    line = c.beginText()
    line.setTextTransform(turned[0], turned[1], -turned[1], turned[0], x, y)
    line.textOut(words)
    c.drawText(line)


def _polyline(c: Canvas, points: Any, *, paint: str) -> None:
    path = c.beginPath()
    path.moveTo(*points[0])
    for x, y in points[1:]:
        path.lineTo(x, y)
    if paint == "s":
        path.close()
    c.drawPath(path, stroke=int(paint != "f"), fill=int(paint == "f"))


def _arc(c: Canvas, x: float, y: float, r: float, *, start_deg: float, sweep_deg: float, paint: str) -> None:
    path = c.beginPath()
    path.arc(x - r, y - r, x + r, y + r, start_deg, sweep_deg)
    c.drawPath(path, stroke=int(paint != "f"), fill=int(paint == "f"))


def _clip(c: Canvas, box: tuple[float, ...], **kw: Any) -> None:
    path = c.beginPath()
    path.rect(*box)
    c.clipPath(path, **kw)


_BARE: dict[str, Callable[..., None]] = {
    "text": _text,
    "line": lambda c, *at: c.line(*at),
    "polyline": _polyline,
    "arc": _arc,
    "rectangle": lambda c, *at, paint: c.rect(*at, stroke=int(paint != "f"), fill=int(paint == "f")),
    "pen": lambda c, width: c.setLineWidth(width),
    "dashes": lambda c, lengths: c.setDash(list(lengths)),
    "gray": lambda c, level: c.setFillGray(level),
    "clip": _clip,
    "qr": lambda c, matrix, x, y, size: c._code.append(qr.path(matrix, x=x, y=y, size=size)),
}
