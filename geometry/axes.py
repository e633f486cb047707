"""The axis of a surveyed pipe from its shots, by least squares."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite, radians, sqrt

from geometry.centerline import moved
from geometry.instruments import SHOT
from geometry.vectors import Vector, apart, dotted, length_of, unit

LEAST_BASE_MM = 25.4  # shots nearer than an inch to each other give no direction (common practice, no source)


class SurveyError(ValueError):
    """Shots that can't give an axis; the message says what to shoot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """The axis of one existing pipe, in mm.

    ``port`` is where the spool begins, ``along`` the unit vector from the existing pipe into the spool.
    ``residuals_mm`` is how far each shot lies off the axis. ``sigma_middle_mm`` is the sigma across the axis at the
    middle of its shots, ``lever_mm`` the distance from there to the port, ``sigma_along_mm`` that of the port along
    the pipe, ``sigma_slope`` that of the direction, mm per mm.
    """

    port: Vector
    along: Vector
    residuals_mm: tuple[float, ...] = ()
    sigma_middle_mm: float = 0.0
    sigma_along_mm: float = 0.0
    lever_mm: float = 0.0
    sigma_slope: float = 0.0

    def sigma_across_mm(self, beyond_mm: float) -> float:
        """Return the sigma across the axis, in one direction, that far beyond the port."""
        return hypot(self.sigma_middle_mm, (self.lever_mm + beyond_mm) * self.sigma_slope)


def axis_from_shots(shots: Sequence[Vector], *, port: Vector | None = None, sigma_mm: float = SHOT.value) -> Axis:
    """Return the axis through two or more shots, the last one nearest the spool.

    Args: shots in mm, in order from the existing pipe toward the spool; ``port`` where the spool begins (brought onto
    the axis; the last shot where left out); ``sigma_mm`` of each coordinate of a shot.
    Raises SurveyError for fewer than two shots, or shots too near each other.
    Source: total least squares (largest principal axis); two shots give sqrt(2) sigma/base for the direction.

    >>> axis = axis_from_shots([(0.0, 0.0, 0.0), (0.0, 0.0, 600.0)])
    >>> axis.along, axis.port
    ((0.0, 0.0, 1.0), (0.0, 0.0, 600.0))
    """
    _refuse_bad(shots)
    first = shots[0]
    near = [apart(first, shot) for shot in shots]  # state-plane coordinates would cost digits
    middle = _mean(near)
    along = _principal([apart(middle, shot) for shot in near], start=near[-1])
    stations = [dotted(apart(middle, shot), along) for shot in near]
    residuals = tuple(
        length_of(apart(moved(middle, along, station), shot)) for station, shot in zip(stations, near, strict=True)
    )
    end = apart(first, port) if port is not None else near[-1]
    lever = dotted(apart(middle, end), along)
    on_axis = moved(middle, along, lever)
    return Axis(
        port=(first[0] + on_axis[0], first[1] + on_axis[1], first[2] + on_axis[2]),
        along=along,
        residuals_mm=residuals,
        sigma_middle_mm=sigma_mm / sqrt(len(shots)),
        sigma_along_mm=sigma_mm,
        lever_mm=lever,
        sigma_slope=sigma_mm / sqrt(sum(station * station for station in stations)),
    )


def axis_from_direction(
    port: Vector, direction: Vector, *, sigma_mm: float = SHOT.value, sigma_deg: float = 0.25
) -> Axis:
    """Return the axis through a point, the way the spool leaves the existing pipe.

    Raises SurveyError where the direction has no length.
    """
    if not all(isfinite(value) for value in (*port, *direction)) or length_of(direction) == 0.0:
        raise SurveyError("A direction needs three numbers that aren't all zero, pointing into the spool.")
    return Axis(
        port=port,
        along=unit(direction),
        sigma_middle_mm=sigma_mm,
        sigma_along_mm=sigma_mm,
        sigma_slope=radians(sigma_deg),
    )


def _refuse_bad(shots: Sequence[Vector]) -> None:
    if len(shots) < 2:
        raise SurveyError("Two shots on each axis at least: shoot the pipe at two places as far apart as you can.")
    if not all(isfinite(value) and abs(value) < 1e10 for shot in shots for value in shot):
        raise SurveyError("A shot needs three numbers, x, y and z: shoot it again.")
    if length_of(apart(shots[0], shots[-1])) < LEAST_BASE_MM:
        raise SurveyError("The first and last shot are nearer than an inch: shoot the pipe at places farther apart.")


def _mean(points: Sequence[Vector]) -> Vector:
    count = len(points)
    return (
        sum(point[0] for point in points) / count,
        sum(point[1] for point in points) / count,
        sum(point[2] for point in points) / count,
    )


def _principal(points: Sequence[Vector], *, start: Vector) -> Vector:
    """Return the direction of largest scatter by the power method; shots lie nearly on a line, so it settles fast."""
    along = unit(start)
    for _ in range(60):
        pulls = [dotted(point, along) for point in points]
        nxt = unit(
            (
                sum(pull * point[0] for pull, point in zip(pulls, points, strict=True)),
                sum(pull * point[1] for pull, point in zip(pulls, points, strict=True)),
                sum(pull * point[2] for pull, point in zip(pulls, points, strict=True)),
            )
        )
        if length_of(apart(along, nxt)) < 1e-15:
            break
        along = nxt
    return along if dotted(along, start) > 0.0 else (-along[0], -along[1], -along[2])
