"""A rolling offset worked through: its sides, the middle pipe, and the spool when its outer legs are given."""

from dataclasses import replace
from typing import Any

from geometry.answer import finding_values, plain_values
from geometry.bends import BendChoice, Made, Turn, make_up
from geometry.centerline import CenterlineError, CenterlineRequest
from geometry.explain import Figures
from geometry.findings import Finding, has_errors
from geometry.lengths import format_length
from geometry.request import Fields, RequestError, asked_bends, chain_on, unread_keys
from geometry.rolling import RollingOffset, rolling_offset
from geometry.spool import ChainRequest
from geometry.worked.result import Worked
from geometry.worked.whole_spool import chain_worked

FLAT = (180.0,)
"""An offset lies in one plane, rolled as a whole: the second bend turns straight back."""


def rolling_worked(fields: Fields) -> Worked:
    """Work a rolling offset through: set, roll and the fittings' turn; ``leg_a`` and ``leg_b`` make it a spool.

    Raises:
        RequestError: a field is missing or wrong.

    """
    asked = fields.part("rolling")
    try:
        sides = rolling_offset(
            set_mm=asked.length_mm("set"), roll_mm=asked.length_mm("roll"), turn_deg=asked.degrees("turn")
        )
        turn_deg, legs = asked.degrees("turn"), (asked.length_or_none("leg_a"), asked.length_or_none("leg_b"))
        line = CenterlineRequest((legs[0] or 1.0, sides.travel_mm, legs[1] or 1.0), (turn_deg, turn_deg), FLAT)
    except (CenterlineError, ValueError) as refused:
        raise refused if isinstance(refused, RequestError) else RequestError(f"rolling: {refused}") from refused
    request, found = chain_on(fields, line, bends=asked_bends(fields, 2))
    if (legs[0] is None) != (legs[1] is None):
        raise asked.wrong("leg_b" if legs[1] is None else "leg_a", "is missing: give both outer legs, or neither")
    working = _lines(sides, turn_deg, request)
    worked = _figures_alone(fields, request, found) if legs[0] is None else chain_worked(fields, request, found)
    values = {"rolling_offset": _values(sides, request), **worked.values}
    return replace(worked, values=values, lines=(*working, *worked.lines))


def _figures_alone(fields: Fields, request: ChainRequest, found: tuple[Finding, ...]) -> Worked:
    """Answer without outer legs: nothing can be built yet, and nothing is wrong."""
    findings = tuple(dict.fromkeys((*found, *(one for made in _makes(request) for one in made.findings))))
    said = (*findings, *unread_keys(fields))
    return Worked({"findings": [finding_values(one) for one in said]}, (), built=not has_errors(said))


def _makes(request: ChainRequest) -> tuple[Made, ...]:
    return tuple(
        make_up(choice.kind).make(
            Turn(
                pipe=request.pipe,
                turn_deg=turn_deg,
                choice=choice,
                gap_mm=request.root_gap_mm,
                kerf_mm=request.kerf_mm,
            )
        )
        for turn_deg, choice in zip(request.line.turns_deg, _two(request.bends), strict=True)
    )


def _two(bends: tuple[BendChoice, ...]) -> tuple[BendChoice, BendChoice]:
    if len(bends) != 2:
        raise RequestError(f"bends: a rolling offset has two bends, not {len(bends)}.")
    return bends[0], bends[1]


def _values(sides: RollingOffset, request: ChainRequest) -> dict[str, Any]:
    values: dict[str, Any] = plain_values(sides)
    makes = _makes(request)
    values["take_offs_mm"] = [made.take_off_mm for made in makes]
    values["pipe_between_mm"] = _between_mm(sides, makes)
    values["pipe_between"] = format_length(max(values["pipe_between_mm"], 0.0), graduation=request.graduation)
    return values


def _between_mm(sides: RollingOffset, makes: tuple[Made, ...]) -> float:
    return sides.travel_mm - sum(made.take_off_mm + made.leg_gap_mm for made in makes)


def _lines(sides: RollingOffset, turn_deg: float, request: ChainRequest) -> tuple[str, ...]:
    figures, makes = Figures(request.graduation), _makes(request)
    takes = " - ".join(
        f"take-off {figures.plain(one.take_off_mm)} - gap {figures.plain(one.leg_gap_mm)}" for one in makes
    )
    return (
        (
            f"True offset: square root of set squared + roll squared = {figures.plain(sides.true_offset_mm)}, rolled "
            f"{sides.roll_deg:.4f} degrees from the set."
        ),
        (
            f"Travel, center to center: true offset / sin {turn_deg:.10g} = {figures.plain(sides.travel_mm)}; "
            f"run: true offset / tan {turn_deg:.10g} = {figures.plain(sides.run_mm)}."
        ),
        f"Pipe between: {figures.plain(sides.travel_mm)} - {takes} = {figures.plain(_between_mm(sides, makes))}.",
    )
