"""The cope of a branch that sits on a main: any included angle, offset, set-on or set-in."""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, isfinite, pi, radians, sin, sqrt
from typing import Literal

from geometry.wraps.lines import Layout, Ordinate, Wrap, WrapError, check_pipe, girth_mm, line_angles_deg

Seat = Literal["set-on", "set-in"]
Edge = Literal["torch square", "inside", "outside"]

LEAST_INCLUDED_DEG = 30.0
_SLACK = 1e-9
_QUARTER = pi / 4.0
_SCAN = 96  # coarse places around the pipe from which the true low point is refined
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0

_SET_IN = (
    "The branch goes through the wall: the outside edge ends flush with the main's bore. "
    "Hold the torch square to the pipe and grind off what stands into the bore."
)
_TORCH: dict[tuple[Seat, Edge], str] = {
    ("set-on", "torch square"): (
        "Hold the torch square to the pipe, aimed at its center, all the way around. "
        "The curve is already cut back for the edge of the wall that touches first; bevel after it fits."
    ),
    ("set-on", "inside"): (
        "Cut with the torch square to the pipe, then bevel the outside back until the inside edge alone touches."
    ),
    ("set-on", "outside"): (
        "The curve is for the outside edge. Tilt the torch along the main's surface so that the cut falls away "
        "toward the bore; the inside edge must not touch first."
    ),
    ("set-in", "outside"): _SET_IN,
    ("set-in", "torch square"): _SET_IN,  # nothing touches inside the main: the outside edge is the one that counts
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Saddle:
    """A branch on a main.

    ``included_deg`` lies between the branch and the main's direction, 30 to 150; over 90 the branch leans back.
    ``offset_mm`` shifts the branch's center line sideways, positive to the left for a person who looks along the main
    with the branch up. ``edge`` says which edge of the branch's wall the curve is for; a set-in branch is always
    cut for its outside edge.
    """

    main_od_mm: float
    main_wall_mm: float
    branch_od_mm: float
    branch_wall_mm: float
    included_deg: float
    offset_mm: float = 0.0
    seat: Seat = "set-on"
    edge: Edge = "torch square"


def check_saddle(saddle: Saddle) -> None:
    """Refuse a saddle that can't be cut.

    Raises:
        WrapError: a pipe is impossible, the included angle is outside 30 to 150, the branch is wider than the main
            or hangs over its side, or the edge makes no sense for the seat.
    """
    check_pipe("main", od_mm=saddle.main_od_mm, wall_mm=saddle.main_wall_mm)
    check_pipe("branch", od_mm=saddle.branch_od_mm, wall_mm=saddle.branch_wall_mm)
    low, high = LEAST_INCLUDED_DEG - _SLACK, 180.0 - LEAST_INCLUDED_DEG + _SLACK
    if not (isfinite(saddle.included_deg) and low <= saddle.included_deg <= high):
        raise WrapError(
            f"A branch at an included angle of {saddle.included_deg:g} degrees can't be saddled here: "
            "30 to 150 degrees can. Use a fitting, or check whether the supplement was typed."
        )
    if (saddle.seat, saddle.edge) not in _TORCH:
        raise WrapError("A set-in branch is cut for its outside edge: leave the edge out, or make it set-on.")
    _, large = _radii(saddle)
    reach = abs(saddle.offset_mm) + saddle.branch_od_mm / 2
    if not reach <= large * (1.0 + _SLACK):
        raise WrapError(
            f"The branch reaches {reach:.1f} mm from the main's center, past its {large:.1f} mm. "
            "Make the offset smaller or the branch smaller, or measure the main's girth again (diameter = girth / pi)."
        )


def _radii(saddle: Saddle) -> tuple[float, float]:
    """Return the radius of the branch's edge and of the main's surface that it follows."""
    outside, bore = saddle.branch_od_mm / 2, saddle.branch_od_mm / 2 - saddle.branch_wall_mm
    if saddle.seat == "set-in":
        return outside, saddle.main_od_mm / 2 - saddle.main_wall_mm
    return (bore if saddle.edge == "inside" else outside), saddle.main_od_mm / 2


def leaning_deg(included_deg: float) -> float:
    """Return the included angle on the acute side: a branch over 90 is the mirror image of one under 90."""
    return 180.0 - included_deg if included_deg > 90.0 else included_deg


def distance_function(saddle: Saddle) -> Callable[[float], float]:
    """Return the distance along the branch from the main's center to the cut, as a function of the place around.

    The place around is in radians from the heel (obtuse) side, a quarter turn being the side of a positive offset.
    Source: intersection of two cylinders; s = (sqrt(R^2 - (e + r sin th)^2) - r cos th cos b)/sin b.
    R^2 - q^2 is built from half angles, (R - q)(R + q) with 1 -+ sin th = 2 sin^2, 2 cos^2: near the sides of equal
    pipes the plain difference of squares keeps only half the digits.
    """
    if saddle.seat == "set-on" and saddle.edge == "torch square":
        return _over_the_wall(saddle)
    b, e = radians(leaning_deg(saddle.included_deg)), saddle.offset_mm
    r, large = _radii(saddle)
    sin_b, lean = sin(b), 2.0 * r * cos(b)
    left_room, right_room, twice = max(0.0, large - e - r), max(0.0, large + e - r), 2.0 * r

    def distance(th: float) -> float:
        half = _QUARTER - 0.5 * th
        s, c = sin(half), cos(half)
        return (sqrt((left_room + twice * s * s) * (right_room + twice * c * c)) - lean * s * c) / sin_b

    return distance


def _over_the_wall(saddle: Saddle) -> Callable[[float], float]:
    """Return the largest distance over the wall: it is concave in the radius, so a turning point may lie inside."""
    b, e, large = radians(leaning_deg(saddle.included_deg)), saddle.offset_mm, saddle.main_od_mm / 2
    cos_b, sin_b = cos(b), sin(b)
    r, bore = saddle.branch_od_mm / 2, saddle.branch_od_mm / 2 - saddle.branch_wall_mm
    r_left, r_right, r_twice = max(0.0, large - e - r), max(0.0, large + e - r), 2.0 * r
    i_left, i_right, i_twice = large - e - bore, large + e - bore, 2.0 * bore

    def distance(th: float) -> float:
        half = _QUARTER - 0.5 * th
        s, c = sin(half), cos(half)
        ss, cc = s * s, c * c
        k, lean = cc - ss, 2.0 * s * c * cos_b  # sin th, cos th cos b
        best = sqrt((r_left + r_twice * ss) * (r_right + r_twice * cc)) - r * lean
        inner = sqrt((i_left + i_twice * ss) * (i_right + i_twice * cc)) - bore * lean
        best = max(best, inner)
        if k > 1e-9 or k < -1e-9:
            turning = -large * lean / sqrt(k * k + lean * lean)
            radius = (turning - e) / k if k > 0.0 else (-turning - e) / k
            if bore < radius < r:
                best = max(best, sqrt(large * large - turning * turning) - radius * lean)
        return best / sin_b

    return distance


def low_point(distance: Callable[[float], float], values: list[float] | None = None) -> tuple[float, float]:
    """Return the place around (radians) and the value of the smallest distance, between lines too.

    ``values`` are distances at even places around that are known already; the search starts from them.
    """
    if values is None or len(values) < _SCAN:
        values = [distance(2.0 * pi * k / _SCAN) for k in range(_SCAN)]
    count, best = len(values), min(values)
    step = 2.0 * pi / count
    found = (step * values.index(best), best)
    for k, value in enumerate(values):
        before, after = values[k - 1], values[(k + 1) % count]
        rise = max(before, after) - value
        if value <= before and value <= after and value - 2.0 * rise <= best:  # a valley that may be the deepest
            place = _golden_minimum(distance, step * (k - 1), step * (k + 1))
            found = min(found, (place % (2.0 * pi), distance(place)), key=lambda pair: pair[1])
    return found


def _golden_minimum(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function with one valley between two places is smallest (golden section)."""
    span = high - low
    one, two = high - _GOLDEN * span, low + _GOLDEN * span
    f_one, f_two = function(one), function(two)
    while span > 1e-9:
        if f_one <= f_two:
            high, two, f_two = two, one, f_one
            span = high - low
            one = high - _GOLDEN * span
            f_one = function(one)
        else:
            low, one, f_one = one, two, f_two
            span = high - low
            two = low + _GOLDEN * span
            f_two = function(two)
    return one if f_one <= f_two else two


def saddle_wrap(saddle: Saddle, layout: Layout | None = None) -> Wrap:
    """Return the template for the branch's end.

    Args:
        saddle: the two pipes, included angle in degrees, offset in mm, seat and edge.
        layout: numbered lines, points of the curve and the sheet; 16 lines and 256 points when left out.

    Returns:
        Ordinates are cut-backs in mm from the true longest tip.

    Raises:
        WrapError: see ``check_saddle``.

    Source: intersection of two cylinders.

    >>> from geometry.wraps.lines import Layout
    >>> four_on_twelve = Saddle(main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3, branch_wall_mm=6.02,
    ...                         included_deg=45.0, edge="outside")
    >>> [round(o.ordinate_mm / 25.4, 4) for o in saddle_wrap(four_on_twelve, Layout(lines=8)).ordinates][:5]
    [0.0, 0.3737, 1.6698, 3.5557, 4.5]
    """
    check_saddle(saddle)
    layout = layout or Layout()
    distance = distance_function(saddle)
    girth = girth_mm(od_mm=saddle.branch_od_mm, sheet_mm=layout.sheet_mm)
    turn, pitch = 2.0 * pi / layout.points, girth / layout.points
    values = [distance(k * turn) for k in range(layout.points)]
    place, least = low_point(distance, values)
    curve = [(k * pitch, value - least) for k, value in enumerate(values)]
    curve.append((girth, curve[0][1]))
    return Wrap(
        kind="saddle",
        od_mm=saddle.branch_od_mm,
        sheet_mm=layout.sheet_mm,
        girth_mm=girth,
        ordinates=tuple(
            Ordinate(n, deg, girth * deg / 360.0, max(0.0, distance(radians(deg)) - least), _line_name(deg))
            for n, deg in enumerate(line_angles_deg(layout))
        ),
        curve_mm=tuple(curve),
        low_point=Ordinate(-1, place * 180.0 / pi, girth * place / (2.0 * pi), 0.0, "longest tip"),
        cut_back_mm=max(values) - least,
        clockwise=saddle.included_deg <= 90.0,
        to_edge="main",
        directions=(_seat_words(saddle), _TORCH[saddle.seat, saddle.edge]),
    )


def tip_from_main_center_mm(saddle: Saddle) -> float:
    """Return how far the branch's longest tip ends from the main's center line, measured along the branch.

    Leg length less this is the branch's longest length.

    >>> round(tip_from_main_center_mm(Saddle(main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3,
    ...                                      branch_wall_mm=6.02, included_deg=45.0, edge="outside")) / 25.4, 4)
    6.7656
    """
    check_saddle(saddle)
    return low_point(distance_function(saddle))[1]


def _line_name(deg: float) -> str:
    return {0.0: "heel", 90.0: "left side", 180.0: "crotch", 270.0: "right side"}.get(deg, "")


def _seat_words(saddle: Saddle) -> str:
    if saddle.seat == "set-in":
        return "Set-in: branch outside to main inside."
    edge = {"torch square": "whole wall", "inside": "inside edge", "outside": "outside edge"}[saddle.edge]
    return f"Set-on: branch {edge} to main outside."
