"""The working of a survey, line by line: both axes, where they come nearest, and what that makes."""

from collections.abc import Iterator

from geometry.axes import Axis
from geometry.explain import Figures
from geometry.lengths import Graduation
from geometry.survey import SurveyedTieIn
from geometry.vectors import Vector

MADE = {
    "one_bend": "One bend, in the plane of both axes.",
    "two_bends": "Two bends: no single one joins these axes.",
    "straight": "Straight pipe.",
}


def survey_lines(
    tie_in: SurveyedTieIn, *, axes: tuple[Axis, Axis], joints_take_mm: float, graduation: Graduation
) -> tuple[str, ...]:
    """Return the working from shots to legs, turn and skew, one step a line.

    Args: what the axes make; axis A and axis B; what the joints take across, in mm; the graduation, which says inches
    or mm.
    """
    figures = Figures(graduation)
    lines = [line for name, axis in zip("AB", axes, strict=True) for line in _axis(name, axis, figures)]
    if tie_in.pi is not None:
        lines.append(
            f"Nearest each other {figures.plain(tie_in.leg_a_mm)} beyond port A and {figures.plain(tie_in.leg_b_mm)} "
            f"beyond port B (sigmas {figures.plain(tie_in.sigma_a_mm)}, {figures.plain(tie_in.sigma_b_mm)}): the PI."
        )
        lines.append(
            f"Included angle between the axes: {tie_in.included_deg:.6f} degrees (sigma "
            f"{tie_in.sigma_included_deg:.3f}); turn {tie_in.turn_deg:.6f}."
        )
    proof = "proved" if tie_in.proved else "not proved"
    lines.append(
        f"The axes miss each other by {figures.plain(tie_in.skew_mm)} (sigma {figures.plain(tie_in.sigma_skew_mm)}, "
        f"{proof}); the two joints take {figures.plain(joints_take_mm)}. {MADE[tie_in.make]}"
    )
    return tuple(lines)


def _axis(name: str, axis: Axis, figures: Figures) -> Iterator[str]:
    at, along = _point(axis.port, figures), ", ".join(f"{part:.6f}" for part in axis.along)
    yield f"Port {name}: {at}; into the spool along ({along})."
    if len(axis.residuals_mm) > 2:
        off = ", ".join(figures.plain(residual) for residual in axis.residuals_mm)
        yield f"Shots off axis {name}: {off}."


def _point(point: Vector, figures: Figures) -> str:
    return "(" + ", ".join(figures.plain(value) for value in point) + ")"
