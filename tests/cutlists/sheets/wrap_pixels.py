"""Measures a printed wrap template in its picture: the curve across its own direction, the test bars by their ticks.

The curve is looked for along its normal in every picture of 300 dpi, and the middle of the ink is compared with the
same curve from ``geometry/`` at 16 times the points. Where another line runs within reach of the normal the ink
cannot be told apart, so those places are left out and counted.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from cutlists.sheets.frame import Body, Paper, body_of
from cutlists.sheets.tiles import OVERLAP_MM, Grid, Tile, lay_out, turned
from cutlists.sheets.wrap import WrapSheet, flat_of, write_wrap
from geometry.drawing.labels import box_of
from geometry.wraps import Hole, Layout, Saddle, Wrap, hole_layout, miter_end_wrap, miter_middle_wrap, saddle_wrap
from tests.cutlists.sheets.pdf_reading import open_pdf, write

DPI = 300
PER_MM = DPI / 25.4
STEP_MM = 0.5
_REACH_MM = 0.8
_ALONG = np.arange(-_REACH_MM, _REACH_MM + 1e-9, 0.02)
_FINE = 4096
_PEN_MM = 0.5  # half the widest line, and what a renderer spreads it by
Maker = Callable[[Layout], Wrap | Hole]

_SADDLES = (
    Saddle(main_od_mm=609.6, main_wall_mm=9.53, branch_od_mm=168.275, branch_wall_mm=7.11, included_deg=45.0),
    Saddle(
        main_od_mm=609.6, main_wall_mm=9.53, branch_od_mm=114.3, branch_wall_mm=6.02, included_deg=127.5, offset_mm=60.0
    ),
    Saddle(main_od_mm=323.85, main_wall_mm=9.53, branch_od_mm=219.1, branch_wall_mm=8.18, included_deg=90.0),
    Saddle(
        main_od_mm=406.4, main_wall_mm=9.53, branch_od_mm=60.3, branch_wall_mm=3.91, included_deg=60.0, offset_mm=40.0
    ),
)
MAKERS: dict[str, Maker] = {
    **{
        f"cope {s.branch_od_mm:g} on {s.main_od_mm:g} at {s.included_deg:g}": (lambda lay, s=s: saddle_wrap(s, lay))
        for s in _SADDLES
    },
    **{
        f"hole {s.branch_od_mm:g} in {s.main_od_mm:g} at {s.included_deg:g}": (lambda lay, s=s: hole_layout(s, lay))
        for s in _SADDLES
    },
    **{
        f"miter end {od:g} at {cut:g}": (
            lambda lay, od=od, wall=wall, cut=cut: miter_end_wrap(od_mm=od, wall_mm=wall, cut_deg=cut, layout=lay)
        )
        for od, wall, cut in ((60.3, 3.91, 22.5), (168.275, 7.11, 26.25), (273.05, 9.27, 5.625), (168.275, 7.11, 2.5))
    },
    **{
        f"miter middle {od:g} at {cut:g}": (
            lambda lay, od=od, wall=wall, cut=cut: miter_middle_wrap(
                od_mm=od, wall_mm=wall, cut_deg=cut, effective_radius_mm=2.2 * od, layout=lay
            )
        )
        for od, wall, cut in ((114.3, 6.02, 11.25), (219.1, 8.18, 8.0))
    },
}


@dataclass(slots=True)
class Measured:
    """How far the ink lies from the geometry, in mm, and how much of the curve could be looked at."""

    off_mm: list[float] = field(default_factory=list)
    places: int = 0
    longest_gap_mm: float = 0.0
    bars_off_mm: list[float] = field(default_factory=list)
    pages: int = 0

    @property
    def worst_mm(self) -> float:
        """The farthest that the ink's middle lies from the curve."""
        return max(map(abs, self.off_mm))

    @property
    def share(self) -> float:
        """The part of the curve's places that could be measured on at least one page."""
        return len(self.off_mm) / self.places


def measure(sheet: WrapSheet, make: Maker, *, paper: Paper) -> Measured:
    """Print a template, look at its picture and measure it; ``make`` makes its curve again with more points."""
    template = sheet.template
    body = body_of(turned(paper))
    grid = lay_out(flat_of(template, tape=sheet.heading.tape, body=body), body)
    pdf = open_pdf(write(write_wrap, sheet, paper=paper))
    tiles = list(grid.tiles())
    pages = [pdf[at] for at in range(len(pdf) - len(tiles), len(pdf))]
    inks = [1.0 - page.render(scale=DPI / 72, grayscale=True).to_numpy().squeeze()[::-1] / 255.0 for page in pages]
    found = Measured(pages=len(tiles))
    for curve in _curves(make(Layout(points=_FINE, sheet_mm=template.sheet_mm)), template):
        _along_the_curve(curve, template, grid, list(zip(tiles, inks, strict=True)), found)
    for ink in inks:
        found.bars_off_mm += _bars(ink, body)
    return found


def _curves(fine: Wrap | Hole, template: Wrap | Hole) -> list[np.ndarray]:
    """Return the curves as they lie on the flat sheet, in the flat sheet's mm."""
    if isinstance(fine, Hole):
        return [np.array([(_way(fine) * along, around) for around, along in fine.curve_mm])]
    curve = np.array(fine.curve_mm)
    if fine.kind == "miter middle":
        return [curve, curve * (1.0, -1.0)]
    assert isinstance(template, Wrap)
    return [curve * (1.0, -1.0 if template.clockwise else 1.0)]


def _way(hole: Hole) -> float:
    """Return which way a hole lies on its sheet: the main runs to the right, seen from outside."""
    return 1.0 if hole.toward_crotch_along_main else -1.0


def _along_the_curve(
    curve: np.ndarray, template: Wrap | Hole, grid: Grid, tiles: Sequence[tuple[Tile, np.ndarray]], found: Measured
) -> None:
    steps = np.hypot(*np.diff(curve, axis=0).T)
    length = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.arange(STEP_MM, length[-1] - STEP_MM, STEP_MM)
    points = np.column_stack([np.interp(at, length, curve[:, k]) for k in (0, 1)])
    ahead = np.column_stack([np.interp(at + 0.05, length, curve[:, k]) for k in (0, 1)]) - points
    normals = np.column_stack([-ahead[:, 1], ahead[:, 0]]) / np.hypot(*ahead.T)[:, None]
    last = 0.0
    for place, point, normal in zip(at, points, normals, strict=True):
        found.places += 1
        for tile, ink in tiles:
            if _can_be_told_apart(point, normal, template, grid, tile):
                found.off_mm.append(_off(point, normal, grid, tile, ink))
                found.longest_gap_mm = max(found.longest_gap_mm, place - last)
                last = place
                break


def _can_be_told_apart(point: np.ndarray, normal: np.ndarray, template: Wrap | Hole, grid: Grid, tile: Tile) -> bool:
    """Tell whether the whole normal lies on the tile and no straight line or word of the template comes near it."""
    ends = np.array([point - normal * _REACH_MM, point + normal * _REACH_MM])
    (x1, y1), (x2, y2) = ends.min(axis=0) - 0.15, ends.max(axis=0) + 0.15
    left, low, right, high = tile.left + 0.3, tile.bottom + 0.3, tile.left + tile.width - 0.3, 0.0
    high = tile.bottom + tile.height - 0.3
    if x1 < left or x2 > right or y1 < low or y2 > high:
        return False
    half = OVERLAP_MM / 2
    upright = [tile.left + half] * (tile.column > 0)
    upright += [tile.left + tile.width - half] * (tile.column < grid.columns - 1)
    level = [tile.bottom + half] * (tile.row < grid.rows - 1)
    level += [tile.bottom + tile.height - half] * (tile.row > 0)
    if isinstance(template, Wrap):
        upright += [o.around_mm for o in template.ordinates] + [template.girth_mm]
        if template.kind == "miter middle" or abs(point[1]) > 1.5:  # nearer than that no girth line is drawn
            level += [0.0]
    else:
        upright += [0.0]
        level += [template.center_around_mm]
        ticks = np.array([(_way(template) * p.along_mm, p.around_mm) for p in template.points])
        if np.hypot(*(ticks - point).T).min() < 0.8:  # each starts on the curve and runs away from it
            return False
    if any(box.x1 < x2 and box.x2 > x1 and box.y1 < y2 and box.y2 > y1 for box in map(box_of, grid.flat.labels)):
        return False
    return not any(x1 - _PEN_MM / 2 < x < x2 + _PEN_MM / 2 for x in upright) and not any(
        y1 - _PEN_MM / 2 < y < y2 + _PEN_MM / 2 for y in level
    )


def _off(point: np.ndarray, normal: np.ndarray, grid: Grid, tile: Tile, ink: np.ndarray) -> float:
    """Return how far the middle of the ink lies from the point along its normal, in mm; 9 where there is no ink."""
    xs = (point[0] + normal[0] * _ALONG + grid.left - tile.left) * PER_MM - 0.5
    ys = (point[1] + normal[1] * _ALONG + grid.bottom - tile.bottom) * PER_MM - 0.5
    x0, y0 = np.floor(xs).astype(int), np.floor(ys).astype(int)
    fx, fy = xs - x0, ys - y0
    dark = (
        ink[y0, x0] * (1 - fx) * (1 - fy)
        + ink[y0, x0 + 1] * fx * (1 - fy)
        + ink[y0 + 1, x0] * (1 - fx) * fy
        + ink[y0 + 1, x0 + 1] * fx * fy
    )
    return float((dark * _ALONG).sum() / dark.sum()) if dark.sum() > 5.0 else 9.0


def _bars(ink: np.ndarray, body: Body) -> list[float]:
    """Return how far each of a page's four test bars is from its length: between the middles of its end ticks."""
    strip = 13.0
    level = [
        _between(ink[round((body.bottom + up + 1.0) * PER_MM), :], body.left + strip, length)
        for up, length in ((8.0, 100.0), (2.0, 101.6))
    ]
    upright = [
        _between(ink[:, round((body.left + along + 1.0) * PER_MM)], body.bottom + strip, length)
        for along, length in ((3.0, 100.0), (9.0, 101.6))
    ]
    return level + upright


def _between(row: np.ndarray, start_mm: float, length_mm: float) -> float:
    """Return how much longer than it should be the distance is between two ticks that cross a row of pixels."""
    first, last = (_tick(row, mm) for mm in (start_mm, start_mm + length_mm))
    return (last - first) - length_mm


def _tick(row: np.ndarray, near_mm: float) -> float:
    low, high = round((near_mm - 1.0) * PER_MM), round((near_mm + 1.0) * PER_MM)
    strip = row[low:high]
    assert strip.sum() > 0.5, f"no tick near {near_mm} mm"
    return float((strip * (np.arange(low, high) + 0.5)).sum() / strip.sum()) / PER_MM
