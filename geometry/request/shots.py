"""Survey shots of a request: two axes, and what the joints at their ports can take."""

from dataclasses import dataclass
from typing import Any

from geometry.allowances import joint_allowance
from geometry.axes import Axis, SurveyError, axis_from_direction, axis_from_shots
from geometry.centerline import Vector
from geometry.ends import EndChoice
from geometry.instruments import SHOT
from geometry.request.fields import MM_PER_UNIT, Fields, RequestError
from geometry.shots import read_shots
from geometry.tables import PipeRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Shots:
    """Both axes, each pointing into the spool, and the offset across that the two joints can take together."""

    axis_a: Axis
    axis_b: Axis
    joints_take_mm: float


def asked_shots(fields: Fields, *, pipe: PipeRow, ends: tuple[EndChoice, EndChoice]) -> Shots:
    """Return the axes of a request's ``survey``.

    Each of ``a`` and ``b`` has ``shots`` (two or more points, the last nearest the spool; ``port`` where the spool
    begins, if not there), or ``port`` and ``along``. Points are three numbers in the request's units.

    Raises:
        RequestError: a field is missing or wrong, the shots give no axis, or a coupling isn't named.

    """
    survey = fields.part("survey")
    sigma_mm = survey.length_or_none("sigma")
    take_mm = survey.length_or_none("joints_take")
    return Shots(
        axis_a=_axis(survey.part("a"), SHOT.value if sigma_mm is None else sigma_mm),
        axis_b=_axis(survey.part("b"), SHOT.value if sigma_mm is None else sigma_mm),
        joints_take_mm=_joints_take_mm(pipe, ends) if take_mm is None else take_mm,
    )


def shots_csv(text: str) -> dict[str, Any]:
    """Return the ``survey`` of a file of shots with the columns axis (a or b), x, y, z, in order toward the spool.

    The numbers are in the request's units; ``mark`` may stand before them, the same in every line.

    Raises:
        RequestError: another heading, a line that isn't an axis and three numbers, shots of more than one tie-in.

    """
    try:
        ports = read_shots(text, unit="mm")  # as written: the request's units come later
    except SurveyError as refused:
        raise RequestError(f"Shots: {refused}") from refused
    if len(ports) > 1:
        marks = ", ".join(one.mark[:20] for one in ports[:5])
        raise RequestError(f"Shots: this file holds {len(ports)} tie-ins ({marks}): give one at a time.")
    return {"a": {"shots": [*map(list, ports[0].shots_a)]}, "b": {"shots": [*map(list, ports[0].shots_b)]}}


def _axis(asked: Fields, sigma_mm: float) -> Axis:
    port = _point(asked, "port") if asked.has("port") else None
    try:
        if asked.has("shots"):
            return axis_from_shots(
                [_vector(asked, "shots", shot) for shot in asked.items("shots")], port=port, sigma_mm=sigma_mm
            )
        if port is None:
            raise asked.wrong("shots", "is missing: give shots, or port and along")
        return axis_from_direction(port, _point(asked, "along"), sigma_mm=sigma_mm)
    except SurveyError as refused:
        raise RequestError(f"{asked.where}: {refused}") from refused


def _point(asked: Fields, key: str) -> Vector:
    return _vector(asked, key, asked.items(key))


def _vector(asked: Fields, key: str, values: Any) -> Vector:
    """Return three numbers in mm: coordinates may be far from here, so no pipe's length limits them."""
    if not isinstance(values, list) or len(values) != 3:
        raise asked.wrong(key, "must be three numbers, x, y and z")
    numbers = Fields(dict(zip("xyz", values, strict=True)), where=f"{asked.where}.{key}")
    x, y, z = (numbers.number(axis, 0.0) * MM_PER_UNIT[asked.units] for axis in "xyz")
    return (x, y, z)


def _joints_take_mm(pipe: PipeRow, ends: tuple[EndChoice, EndChoice]) -> float:
    try:
        return sum(
            joint_allowance(pipe, prep=end.prep, coupling=end.coupling, field_trim_mm=end.field_trim_mm).offset_mm
            for end in ends
        )
    except ValueError as refused:
        raise RequestError(f"survey: {refused} Or give joints_take.") from refused
