"""What every wrap has: numbered lines around the pipe, an ordinate on each, a smooth curve, and words for the torch."""

from dataclasses import dataclass
from math import isfinite, pi
from typing import Literal

Kind = Literal["saddle", "hole", "miter end", "miter middle"]


class WrapError(ValueError):
    """The wrap can't be drawn; the message says what to change."""


@dataclass(frozen=True, slots=True)
class Ordinate:
    """One numbered line: where it runs around the pipe and how far the cut lies from the girth line.

    ``around_deg`` counts from the heel; ``around_mm`` is the place on the flat sheet.
    """

    number: int
    around_deg: float
    around_mm: float
    ordinate_mm: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Wrap:
    """A template to wrap on the outside of a pipe.

    Ordinates run from the girth line. On a saddle and on the end of a miter the girth line goes through the longest
    tip and an ordinate is the cut-back from it; on the middle piece of a miter the girth line is the middle of the
    piece and the same curve lies on both sides of it.

    ``curve_mm`` are points (around, ordinate) of the smooth curve, the first one repeated at a whole girth.
    ``clockwise`` tells how the numbers run for a person who looks from the free end of the pipe toward the cut.
    ``low_point`` is the true longest tip, which may lie between two lines.
    """

    kind: Kind
    od_mm: float
    sheet_mm: float
    girth_mm: float
    ordinates: tuple[Ordinate, ...]
    curve_mm: tuple[tuple[float, float], ...]
    low_point: Ordinate
    cut_back_mm: float
    clockwise: bool
    to_edge: str
    directions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """How a template is laid out: numbered lines, points of the smooth curve, and the sheet it is printed on.

    ``lines`` is an even number from 8 to 360, the shop's usual ones being 8, 12, 16 and 32; ``every_deg`` takes its
    place when given, a spacing in whole degrees that goes evenly into 180. ``points`` is a multiple of 4, so that the
    sides of equal pipes, where the curve has a kink, are among them.
    """

    lines: int = 16
    every_deg: int | None = None
    points: int = 256
    sheet_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a layout that can't be drawn: raises WrapError."""
        if self.every_deg is not None and (not 1 <= self.every_deg <= 45 or 180 % self.every_deg):
            raise WrapError(
                f"Lines every {self.every_deg} degrees miss the throat. Use 5, 10, 15, 20, 30, 36 or 45 degrees."
            )
        if not 8 <= self.lines <= 360 or self.lines % 2:
            raise WrapError(f"{self.lines} lines can't be laid out. Use an even number: 8, 12, 16 or 32.")
        if self.points < 16 or self.points % 4:
            raise WrapError(f"A curve of {self.points} points can't be drawn: use a multiple of 4, 16 or more.")
        if not (isfinite(self.sheet_mm) and 0.0 <= self.sheet_mm <= 3.0):
            raise WrapError(
                f"The template's sheet must be 0 to 3 mm thick; got {self.sheet_mm:g}. Paper is about 0.1 mm."
            )


def line_angles_deg(layout: Layout) -> tuple[float, ...]:
    """Return where the numbered lines run around the pipe, from the heel.

    >>> line_angles_deg(Layout(lines=8))
    (0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0)
    >>> len(line_angles_deg(Layout(every_deg=10)))
    36
    """
    count = layout.lines if layout.every_deg is None else 360 // layout.every_deg
    return tuple(360.0 * k / count for k in range(count))


def girth_mm(*, od_mm: float, sheet_mm: float = 0.0) -> float:
    """Return the length of a template that just closes around a pipe: outside diameter plus one sheet, times pi.

    Source: geometry; the middle of the sheet lies half a thickness outside the pipe.

    >>> round(girth_mm(od_mm=168.275), 1)
    528.7
    """
    return pi * (od_mm + sheet_mm)


def check_pipe(what: str, *, od_mm: float, wall_mm: float) -> None:
    """Refuse a pipe that can't be: raises WrapError with the figure to correct."""
    if not (isfinite(od_mm) and od_mm > 0.0):
        raise WrapError(f"The {what}'s outside diameter must be more than 0 mm; got {od_mm:g}.")
    if not (isfinite(wall_mm) and 0.0 < wall_mm < od_mm / 2):
        raise WrapError(f"The {what}'s wall must be more than 0 and less than half of {od_mm:g} mm; got {wall_mm:g}.")
