"""The shapes a drawing is made of: millimeters of paper, y upward, one style word each."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Style = Literal[
    "edge",  # what you would see: the outside of the pipe, a face, a weld neck
    "thin",  # fine solid lines: thread runouts, leaders inside a symbol
    "hidden",  # the bore and what lies behind
    "center",  # center lines, chain dashed
    "dim",  # dimension lines, extension lines, leaders
    "weld",  # the weld itself
    "hatch",  # ground and cut faces
    "cut",  # the curve to cut or burn along
    "grid",  # ordinate lines of a wrap
    "ink",  # filled: arrowheads, groove symbols
    "paper",  # filled with the paper's color to hide what is behind
    "note",  # small words
    "figure",  # dimensions and other numbers
    "mark",  # the spool's mark, big
]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line between two points."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float
    style: Style


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle from ``start_deg``, counter-clockwise for a positive sweep; 360 is the whole circle."""

    x_mm: float
    y_mm: float
    radius_mm: float
    start_deg: float
    sweep_deg: float
    style: Style


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines through points, closed or open."""

    points: tuple[Point, ...]
    style: Style
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words; ``x, y`` is on the baseline, ``height_mm`` is the height of a capital letter."""

    x_mm: float
    y_mm: float
    text: str
    height_mm: float
    anchor: Anchor = "start"
    rotation_deg: float = 0.0
    style: Style = "note"


@dataclass(frozen=True, slots=True)
class StackedLength:
    """A length whose fraction is stacked over a bar: ``prefix`` 3' 4 5/16 ``suffix``.

    ``whole`` holds feet and inches with their marks, or a plain figure in mm. A ``denominator`` of 0 means no
    fraction. ``x, y`` is on the baseline, ``height_mm`` the height of the whole figures.
    """

    x_mm: float
    y_mm: float
    prefix: str
    whole: str
    numerator: int
    denominator: int
    suffix: str
    height_mm: float
    anchor: Anchor = "middle"
    rotation_deg: float = 0.0
    style: Style = "figure"

    @property
    def spoken(self) -> str:
        """The length on one line, as a person reads it aloud or a screen reader says it."""
        fraction = f"{self.numerator}/{self.denominator}" if self.denominator else ""
        joint = "-" if fraction and self.whole and self.whole[-1].isdigit() else " " if fraction and self.whole else ""
        return f"{self.prefix}{self.whole}{joint}{fraction}{self.suffix}"


Shape = Line | Arc | Polyline | Text | StackedLength


@dataclass(frozen=True, slots=True)
class Place:
    """A stretch of a drawing that leads somewhere when it is on a screen; ``words`` say where. Paper has none."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    address: str
    words: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A sheet area of ``width_mm`` by ``height_mm`` with its shapes, first drawn first, and where it can be pressed."""

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    title: str
    scale_text: str = ""
    view_text: str = ""
    places: tuple[Place, ...] = ()


def arrowhead(tip: Point, *, toward_deg: float, length_mm: float) -> Polyline:
    """Return a filled arrowhead with its tip at a point, pointing in a direction."""
    ux, uy = cos(radians(toward_deg)), sin(radians(toward_deg))
    half = length_mm / 6
    back_x, back_y = tip[0] - length_mm * ux, tip[1] - length_mm * uy
    return Polyline(
        (tip, (back_x - half * uy, back_y + half * ux), (back_x + half * uy, back_y - half * ux)), "ink", closed=True
    )


def moved(shapes: Iterable[Shape], *, dx_mm: float, dy_mm: float) -> tuple[Shape, ...]:
    """Return the shapes shifted by a distance, to place one drawing on another."""
    return tuple(_moved(shape, dx_mm, dy_mm) for shape in shapes)


def _moved(shape: Shape, dx: float, dy: float) -> Shape:
    if isinstance(shape, Line):
        return Line(shape.x1_mm + dx, shape.y1_mm + dy, shape.x2_mm + dx, shape.y2_mm + dy, shape.style)
    if isinstance(shape, Polyline):
        return replace(shape, points=tuple((x + dx, y + dy) for x, y in shape.points))
    return replace(shape, x_mm=shape.x_mm + dx, y_mm=shape.y_mm + dy)
