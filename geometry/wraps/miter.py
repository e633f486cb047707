"""Wraps for miters: the end piece cut on one side, the middle piece cut on both."""

from collections.abc import Callable
from math import cos, isfinite, pi, radians, tan
from typing import Literal

from geometry.wraps.lines import (
    Kind,
    Layout,
    Ordinate,
    Wrap,
    WrapError,
    check_pipe,
    girth_mm,
    line_angles_deg,
)

MiterEdge = Literal["in the plane", "torch square"]
_TORCH: dict[MiterEdge, str] = {
    "in the plane": "Saw on the curve, or hold the torch in the plane of the cut (sight from heel to throat).",
    "torch square": (
        "Hold the torch square to the pipe all the way around. The curve is already cut back where the bore would "
        "touch first; bevel after it fits."
    ),
}


def miter_end_wrap(
    *,
    od_mm: float,
    wall_mm: float,
    cut_deg: float,
    layout: Layout | None = None,
    edge: MiterEdge = "in the plane",
) -> Wrap:
    """Return the template for a pipe end cut on the bias.

    Args:
        od_mm: outside diameter.
        wall_mm: wall thickness.
        cut_deg: cut from square, half the turn of one weld, more than 0 and under 45.
        layout: numbered lines, points of the curve and the sheet; 16 lines and 256 points when left out.
        edge: how the cut is made.

    Returns:
        Ordinates are cut-backs in mm from the outside point of the heel (the long side), where the numbers start. With
        the torch square to the pipe the heel itself is cut back, because the bore would touch first.

    Raises:
        WrapError: the pipe or the cut can't be.

    Source: a plane through a cylinder; cut-back = OD tan(cut) from heel to throat.

    >>> wrap = miter_end_wrap(od_mm=168.275, wall_mm=7.112, cut_deg=15.0, layout=Layout(lines=8))
    >>> round(wrap.cut_back_mm / 25.4, 4)
    1.7752
    """
    _check(od_mm, wall_mm, cut_deg)
    slope, r, bore = tan(radians(cut_deg)), od_mm / 2, od_mm / 2 - wall_mm

    def cut_back(th: float) -> float:
        radius = bore if edge == "torch square" and cos(th) > 0.0 else r
        return (r - radius * cos(th)) * slope

    return _wrap("miter end", cut_back, od_mm, layout or Layout(), _TORCH[edge])


def miter_middle_wrap(
    *,
    od_mm: float,
    wall_mm: float,
    cut_deg: float,
    effective_radius_mm: float,
    layout: Layout | None = None,
) -> Wrap:
    """Return the template for the middle piece of a miter, laid out both ways from the girth line at its middle.

    Args:
        od_mm: outside diameter.
        wall_mm: wall thickness.
        cut_deg: cut from square at each end, turn / (2 welds).
        effective_radius_mm: radius that the welds' planes meet at; more than half the outside diameter.
        layout: numbered lines, points of the curve and the sheet; 16 lines and 256 points when left out.

    Returns:
        Ordinates are distances in mm from the middle girth line to the cut, the same on both sides.

    Raises:
        WrapError: the pipe, the cut, or the radius can't be.

    Source: half piece = (Re + r cos th) tan(cut), th from the heel.

    >>> eight = Layout(lines=8)
    >>> wrap = miter_middle_wrap(
    ...     od_mm=323.85, wall_mm=9.525, cut_deg=15.0, effective_radius_mm=457.2, layout=eight)
    >>> round(2 * wrap.ordinates[0].ordinate_mm / 25.4, 4), round(2 * wrap.ordinates[4].ordinate_mm / 25.4, 4)
    (13.0625, 6.2298)
    """
    _check(od_mm, wall_mm, cut_deg)
    slope, r = tan(radians(cut_deg)), od_mm / 2
    if not (isfinite(effective_radius_mm) and effective_radius_mm > r):
        raise WrapError(
            f"The effective radius must be more than half the outside diameter ({r:.1f} mm), or the throat vanishes; "
            f"got {effective_radius_mm:g} mm."
        )
    return _wrap(
        "miter middle",
        lambda th: (effective_radius_mm + r * cos(th)) * slope,
        od_mm,
        layout or Layout(),
        _TORCH["in the plane"],
    )


def _check(od_mm: float, wall_mm: float, cut_deg: float) -> None:
    check_pipe("pipe", od_mm=od_mm, wall_mm=wall_mm)
    if not (isfinite(cut_deg) and 0.0 < cut_deg < 45.0 + 1e-9):
        raise WrapError(f"A miter is cut more than 0 and not over 45 degrees from square; got {cut_deg:g}.")


def _wrap(kind: Kind, ordinate: Callable[[float], float], od_mm: float, layout: Layout, torch: str) -> Wrap:
    girth = girth_mm(od_mm=od_mm, sheet_mm=layout.sheet_mm)
    turn, pitch = 2.0 * pi / layout.points, girth / layout.points
    curve = [(k * pitch, ordinate(k * turn)) for k in range(layout.points)]
    curve.append((girth, curve[0][1]))
    heights = [y for _, y in curve]
    names = {0.0: "heel", 180.0: "throat"}
    return Wrap(
        kind=kind,
        od_mm=od_mm,
        sheet_mm=layout.sheet_mm,
        girth_mm=girth,
        ordinates=tuple(
            Ordinate(n, deg, girth * deg / 360.0, ordinate(radians(deg)), names.get(deg, ""))
            for n, deg in enumerate(line_angles_deg(layout))
        ),
        curve_mm=tuple(curve),
        low_point=Ordinate(-1, 0.0, 0.0, heights[0], "longest tip"),
        cut_back_mm=max(heights) - min(heights),
        clockwise=True,
        to_edge="weld",
        directions=(torch,),
    )
