"""A run on grade worked through: its fall, whether that is enough, and the true included angle."""

from typing import Any

from geometry.answer import finding_values, plain_values
from geometry.explain import Figures
from geometry.findings import has_errors
from geometry.grade import Fall, GradeError, check_fall, fall, true_included_deg
from geometry.lengths import Graduation, format_length
from geometry.request import Fields, RequestError, asked_graduation, asked_pipe, unread_keys
from geometry.worked.result import Worked


def grade_worked(fields: Fields) -> Worked:
    """Work a slope through: ``run`` and ``slope`` in inches per foot; ``plan_included_angle`` with ``main_slope``.

    Raises:
        RequestError: a field is missing or wrong.

    """
    asked, pipe, graduation = fields.part("grade"), asked_pipe(fields), asked_graduation(fields)
    slope = asked.need_number("slope")
    try:
        drop = fall(run_mm=asked.length_mm("run"), slope_in_per_ft=slope)
        found = check_fall(nps=pipe.nps, slope_in_per_ft=slope)
        values: dict[str, Any] = plain_values(drop)
        values["fall"] = format_length(drop.fall_mm, graduation=graduation)
        lines = [_fall_line(drop, slope, graduation)]
        if asked.has("plan_included_angle"):
            plan_deg, main_slope = asked.degrees("plan_included_angle"), asked.number("main_slope", 0.0)
            true_deg = true_included_deg(
                plan_included_deg=plan_deg, branch_slope_in_per_ft=slope, main_slope_in_per_ft=main_slope
            )
            values["true_included_deg"] = true_deg
            lines.append(f"Included angle {plan_deg:.10g} on the plan is {true_deg:.4f} in space.")
    except GradeError as refused:
        raise RequestError(f"grade: {refused}") from refused
    said = (*found, *unread_keys(fields))
    lines += [f"{one.level.capitalize()}: {one.text}" for one in said]
    answer = {"grade": values, "findings": [finding_values(one) for one in said]}
    return Worked(answer, tuple(lines), built=not has_errors(said))


def _fall_line(drop: Fall, slope: float, graduation: Graduation) -> str:
    figures = Figures(graduation)
    fallen = f"{figures.plain(drop.run_mm)} x {slope:g} / 12 = {figures.plain(drop.fall_mm)}"
    return f"Fall: run {fallen}, {drop.percent:.4f} percent, {drop.slope_deg:.4f} degrees."
