"""Probability that two or three correlated normal errors all stay inside their limits, by quadrature."""

from functools import cache
from itertools import pairwise
from math import cos, erf, exp, pi, sqrt

REACH = 5.5  # sigmas beyond which nothing is left that matters: 4e-8
NODES = 12
LEAST_SHARE = 1e-12  # a variance left below this share of its own is taken as this share: no division by nothing
LEAST_VARIANCE = 1e-24  # and a value that can't be off at all as one that hardly can
ROOT_TWO = sqrt(2.0)
ROOT_TWO_PI = sqrt(2.0 * pi)

Limits = tuple[float, float]
Pair = tuple[float, float]
Triple = tuple[float, float, float]


@cache
def legendre(count: int) -> tuple[Pair, ...]:
    """Return the nodes and weights of Gauss-Legendre quadrature on -1 to 1. Source: Newton on Legendre's recurrence.

    >>> [(round(node, 6), round(weight, 6)) for node, weight in legendre(2)]
    [(0.57735, 1.0), (-0.57735, 1.0)]
    """
    made = []
    for place in range(count):
        node = cos(pi * (place + 0.75) / (count + 0.5))
        slope = 1.0
        for _ in range(50):
            value, before = node, 1.0
            for degree in range(2, count + 1):
                value, before = ((2 * degree - 1) * node * value - (degree - 1) * before) / degree, value
            slope = count * (node * value - before) / (node * node - 1.0)
            node -= value / slope
        made.append((node, 2.0 / ((1.0 - node * node) * slope * slope)))
    return tuple(made)


def pair_inside(mean: Pair, covariance: Triple, box: tuple[Limits, Limits]) -> float:
    """Return the probability that two correlated normal values both lie inside their limits.

    Args: the two means; the covariance as xx, yy, xy; the limits of x and of y.
    Source: y given x is normal, closed form; x by Gauss-Legendre, broken where y crosses its limits.

    >>> round(pair_inside((0.0, 0.0), (1.0, 1.0, 0.0), ((-1.0, 1.0), (-1.0, 1.0))), 6)
    0.466065
    """
    xx, yy, xy = covariance
    xx = max(xx, LEAST_VARIANCE)
    slope = xy / xx
    return _pair(mean, sqrt(xx), slope, sqrt(_left(yy, slope * xy)), box)


def triple_inside(mean: Triple, covariance: tuple[Triple, Triple, Triple], box: tuple[Limits, Limits, Limits]) -> float:
    """Return the probability that three correlated normal values all lie inside their limits.

    Args: the three means, the 3 x 3 covariance, the three pairs of limits.
    Source: the first value by Gauss-Legendre, the other two given it by ``pair_inside``'s rule.

    >>> apart = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    >>> round(triple_inside((0.0, 0.0, 0.0), apart, ((-1.0, 1.0), (-1.0, 1.0), (-1.0, 1.0))), 6)
    0.318178
    """
    (xx, xy, xz), (_, yy, yz), (_, _, zz) = covariance
    xx = max(xx, LEAST_VARIANCE)
    sigma, slope_y, slope_z = sqrt(xx), xy / xx, xz / xx
    left_y, left_yz, left_z = _left(yy, slope_y * xy), yz - slope_y * xz, zz - slope_z * xz
    slope = left_yz / left_y
    sigma_y, sigma_z = sqrt(left_y), sqrt(max(left_z - slope * left_yz, LEAST_SHARE * zz, LEAST_VARIANCE))
    rest = (box[1], box[2])
    total = 0.0
    crossings = _crossings(mean[0], slope_y, mean[1], box[1]) + _crossings(mean[0], slope_z, mean[2], box[2])
    for x, weight in _nodes(box[0], mean[0], sigma, crossings):
        off = x - mean[0]
        there = (mean[1] + slope_y * off, mean[2] + slope_z * off)
        total += weight * exp(-0.5 * (off / sigma) ** 2) * _pair(there, sigma_y, slope, sigma_z, rest)
    return total / (sigma * ROOT_TWO_PI)


def _left(variance: float, explained: float) -> float:
    """Return what is left of a variance once another value is known, never nothing."""
    return max(variance - explained, LEAST_SHARE * variance, LEAST_VARIANCE)


def _pair(mean: Pair, sigma_x: float, slope: float, sigma_y: float, box: tuple[Limits, Limits]) -> float:
    """Integrate over x; y given x has its mean on a line of this slope, and ``sigma_y`` about it."""
    mean_x, mean_y = mean
    scale = 1.0 / (sigma_y * ROOT_TWO)
    low, high = (box[1][0] - mean_y) * scale, (box[1][1] - mean_y) * scale
    tilt, flat = slope * scale, -0.5 / sigma_x**2
    total = 0.0
    for x, weight in _nodes(box[0], mean_x, sigma_x, _crossings(mean_x, slope, mean_y, box[1])):
        off = x - mean_x
        lean = tilt * off
        total += weight * exp(flat * off * off) * (erf(high - lean) - erf(low - lean))
    return 0.5 * total / (sigma_x * ROOT_TWO_PI)


def _crossings(mean: float, slope: float, next_mean: float, next_limits: Limits) -> list[float]:
    """Return where the next value, on its line over this one, crosses its own limits."""
    return [mean + (limit - next_mean) / slope for limit in next_limits] if slope else []


def _nodes(limits: Limits, mean: float, sigma: float, crossings: list[float]) -> list[Pair]:
    """Return nodes and weights over a value's limits, in three panels and broken at the crossings."""
    start, stop = max(limits[0], mean - REACH * sigma), min(limits[1], mean + REACH * sigma)
    if stop <= start:
        return []
    third = (stop - start) / 3.0
    breaks = sorted([start, start + third, stop - third, stop, *(at for at in crossings if start < at < stop)])
    made = []
    for left, right in pairwise(breaks):
        half, middle = (right - left) / 2.0, (right + left) / 2.0
        made += [(middle + half * node, half * weight) for node, weight in legendre(NODES)]
    return made
