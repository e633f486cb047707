"""Weight of pipe and elbows before zinc, and the zinc they pick up."""

from math import isfinite, pi, radians

from geometry.tables import PipeRow
from geometry.tables.zinc import ZINC_G_PER_M2_PER_UM

KG_PER_LB = 0.45359237
"""The international pound, exact."""

USUAL_OVER_MINIMUM = 1.4
"""A usual coat is 40 percent over the standard's minimum. Common practice, no source."""


def pounds(mass_kg: float) -> float:
    """Return kg as pounds.

    >>> round(pounds(1.0), 4)
    2.2046
    """
    return mass_kg / KG_PER_LB


def pounds_per_foot(pipe: PipeRow) -> float:
    """Return the plain-end weight of a pipe in lb/ft.

    Source: ASME B36.10M, 0.0246615 (D - t) t kg/m; its inch formula 10.69 (D - t) t lb/ft gives 0.015 percent less.

    >>> from geometry.tables import pipe
    >>> round(pounds_per_foot(pipe("6", "40")), 2)
    18.99
    """
    return pounds(pipe.kg_per_m) * 0.3048


def pipe_kg(pipe: PipeRow, *, length_mm: float) -> float:
    """Return the weight in kg of pipe with square ends, `length_mm` long.

    Raises ValueError for a length that isn't zero or more.

    >>> from geometry.tables import pipe
    >>> round(pipe_kg(pipe("4", "40"), length_mm=1000.0), 2)
    16.07
    """
    return pipe.kg_per_m * _length(length_mm) / 1000.0


def elbow_kg(pipe: PipeRow, *, bend_radius_mm: float, turn_deg: float) -> float:
    """Return the weight in kg of an elbow of the pipe's own wall: the pipe's weight along its center arc.

    Exact for an even wall (Pappus): the throat is lighter by what the heel is heavier. Raises ValueError as `pipe_kg`.

    >>> from geometry.tables import pipe
    >>> round(elbow_kg(pipe("4", "40"), bend_radius_mm=152.4, turn_deg=90.0), 2)
    3.85
    """
    return pipe_kg(pipe, length_mm=bend_radius_mm * radians(turn_deg))


def zinc_kg(pipe: PipeRow, *, length_mm: float, coating_um: float) -> float:
    """Return the zinc in kg on the inside and the outside of `length_mm` of pipe along its center line.

    Source: pi (OD + ID) x coating x 7.07 g/m2 per um (ASTM A153/A153M Note 2). Raises ValueError as `pipe_kg`.

    >>> from geometry.tables import pipe
    >>> round(zinc_kg(pipe("6", "40"), length_mm=1000.0, coating_um=75.0), 3)
    0.537
    """
    surface_m2 = pi * (pipe.od_mm + pipe.id_mm) * _length(length_mm) / 1e6
    return surface_m2 * _length(coating_um) * ZINC_G_PER_M2_PER_UM / 1000.0


def _length(value: float) -> float:
    if not (isfinite(value) and value >= 0):
        raise ValueError(f"A length or a coating must be zero or more, not {value:g}: check the cut lengths.")
    return value
