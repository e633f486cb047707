"""The hole in the main under a branch, laid out on the main's outside."""

from collections.abc import Callable
from dataclasses import dataclass
from math import asin, atan2, cos, pi, radians, sin, sqrt

from geometry.wraps.lines import Layout, girth_mm, line_angles_deg
from geometry.wraps.saddle import Saddle, check_saddle, leaning_deg


@dataclass(frozen=True, slots=True)
class HolePoint:
    """One point of the hole's edge.

    ``along_mm`` runs along the main from the point where the branch's center line meets the main's outside, positive
    toward the acute (crotch) side; ``around_mm`` runs around the main from the line on its top, positive to the left
    for a person who looks along the main.
    """

    number: int
    around_branch_deg: float
    along_mm: float
    around_mm: float


@dataclass(frozen=True, slots=True)
class Hole:
    """The hole's outline on the main's outside, as numbered points and as a smooth closed curve (around, along)."""

    points: tuple[HolePoint, ...]
    curve_mm: tuple[tuple[float, float], ...]
    length_mm: float
    width_mm: float
    center_around_mm: float
    main_girth_mm: float
    sheet_mm: float
    toward_crotch_along_main: bool
    directions: tuple[str, ...]


def hole_edge_radius_mm(saddle: Saddle) -> float:
    """Return the radius of the branch's edge that the hole follows: its bore when set on, its outside when set in."""
    outside = saddle.branch_od_mm / 2
    if saddle.seat == "set-in" or saddle.edge == "outside":
        return outside
    return outside - saddle.branch_wall_mm


def hole_layout(saddle: Saddle, layout: Layout | None = None) -> Hole:
    """Return the hole to burn in the main.

    Args:
        saddle: the two pipes and how they meet.
        layout: numbered points, points of the curve and the sheet; widths around the main grow with the sheet.

    Returns:
        Distances in mm on the main's outside (on the sheet, when the layout has one).

    Raises:
        WrapError: see ``check_saddle``.

    Source: intersection of two cylinders, the main's surface unrolled:
    along = (Z - Z0)/tan b - r cos th/sin b, around = R asin((e + r sin th)/R).

    >>> lateral = Saddle(main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3, branch_wall_mm=6.02,
    ...                  included_deg=45.0, edge="outside")
    >>> points = hole_layout(lateral, Layout(lines=8)).points
    >>> [(round(p.along_mm / 25.4, 4), round(p.around_mm / 25.4, 4)) for p in points[:3]]
    [(-3.182, 0.0), (-2.4517, 1.608), (-0.4103, 2.2995)]
    """
    check_saddle(saddle)
    layout = layout or Layout()
    place = _placer(saddle, layout.sheet_mm)
    named = []
    for n, deg in enumerate(line_angles_deg(layout)):
        around, along = place(radians(deg))
        named.append(HolePoint(n, deg, along, around))
    curve = [place(2.0 * pi * k / layout.points) for k in range(layout.points)]
    curve.append(curve[0])
    alongs, arounds = [y for _, y in curve], [x for x, _ in curve]
    large = saddle.main_od_mm / 2
    return Hole(
        points=tuple(named),
        curve_mm=tuple(curve),
        length_mm=max(alongs) - min(alongs),
        width_mm=max(arounds) - min(arounds),
        center_around_mm=(large + layout.sheet_mm / 2) * asin(saddle.offset_mm / large),
        main_girth_mm=girth_mm(od_mm=saddle.main_od_mm, sheet_mm=layout.sheet_mm),
        sheet_mm=layout.sheet_mm,
        toward_crotch_along_main=saddle.included_deg <= 90.0,
        directions=_directions(saddle),
    )


def _placer(saddle: Saddle, sheet_mm: float) -> Callable[[float], tuple[float, float]]:
    """Return the function from the place around the branch (radians from the heel) to (around, along) on the main."""
    b, e, r = radians(leaning_deg(saddle.included_deg)), saddle.offset_mm, hole_edge_radius_mm(saddle)
    large = saddle.main_od_mm / 2
    sin_b, cot_b, unrolled = sin(b), cos(b) / sin(b), large + sheet_mm / 2
    z0 = sqrt(max(0.0, (large - e) * (large + e)))
    left_room, right_room, twice = max(0.0, large - e - r), max(0.0, large + e - r), 2.0 * r

    def place(th: float) -> tuple[float, float]:
        half = pi / 4.0 - 0.5 * th  # half angles keep the digits near the sides of equal pipes
        s, c = sin(half), cos(half)
        z = sqrt((left_room + twice * s * s) * (right_room + twice * c * c))
        around = unrolled * atan2(e + r * sin(th), z)
        return around, (z - z0) * cot_b - twice * s * c / sin_b

    return place


def _directions(saddle: Saddle) -> tuple[str, ...]:
    hold = "Hold the torch along the branch's center line, not square to the main."
    if saddle.seat == "set-in":
        return ("Set-in: the hole takes the branch's outside. Grind to an easy slip fit.", hold)
    if saddle.edge == "outside":
        return ("Hole to the branch's outside edge.", hold)
    return ("Set-on: the hole follows the branch's bore.", hold)
