"""The few vector operations that surveys and two-bend spools need, on plain triples."""

from math import hypot

from geometry.centerline import Vector, crossed

__all__ = ["Vector", "apart", "crossed", "dotted", "length_of", "unit"]


def dotted(u: Vector, v: Vector) -> float:
    """Return the dot product."""
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]


def apart(p: Vector, q: Vector) -> Vector:
    """Return the way from p to q."""
    return q[0] - p[0], q[1] - p[1], q[2] - p[2]


def length_of(u: Vector) -> float:
    """Return the length of a vector."""
    return hypot(*u)


def unit(u: Vector) -> Vector:
    """Return the vector of length 1 the same way; ValueError for one of no length.

    >>> unit((0.0, 3.0, 4.0))
    (0.0, 0.6, 0.8)
    """
    length = length_of(u)
    if length == 0.0:
        raise ValueError("A direction needs two different points.")
    return u[0] / length, u[1] / length, u[2] / length
