"""A surveyed tie-in worked through: one bend where the axes meet, two where they miss each other."""

from dataclasses import dataclass, replace
from typing import Any

from geometry.answer import finding_values, plain_values, proposal_values
from geometry.bends import BendChoice, make_up
from geometry.build import build, build_chain
from geometry.explain import explain
from geometry.explain_chain import explain_chain
from geometry.explain_more import proposal_lines
from geometry.explain_survey import survey_lines
from geometry.findings import Finding, error
from geometry.proposals import propose
from geometry.request import Fields, RequestError, asked_bends, asked_shots, chain_on, spool_on_legs, unread_keys
from geometry.request.shots import Shots
from geometry.spool import SpoolRequest
from geometry.survey import SurveyedTieIn, tie_in_from_axes
from geometry.two_bend import Port
from geometry.two_bend_choice import NoTwoBend
from geometry.two_bend_plan import TwoBendPlan, two_bend_plans
from geometry.worked.result import Worked, answer_values, as_checked, asked_for

NO_JIG = frozenset({"check_missing"})
"""Said of the three numbers of a jig; a survey is judged by its skew and its residuals."""


@dataclass(frozen=True, slots=True)
class _Surveyed:
    fields: Fields
    spool: SpoolRequest
    found: tuple[Finding, ...]
    shots: Shots
    tie_in: SurveyedTieIn


def survey_worked(fields: Fields) -> Worked:
    """Work a surveyed tie-in through.

    Raises:
        RequestError: a field is missing or wrong, or the shots give no axis.

    """
    spool, found = spool_on_legs(fields, leg_a_mm=1.0, leg_b_mm=1.0, included_deg=180.0)
    shots = asked_shots(fields, pipe=spool.pipe, ends=(spool.end_a, spool.end_b))
    tie_in = tie_in_from_axes(shots.axis_a, shots.axis_b, joints_take_mm=shots.joints_take_mm)
    surveyed = _Surveyed(fields, spool, found, shots, tie_in)
    return _two_bends(surveyed) if tie_in.make == "two_bends" else _one_bend(surveyed)


def _one_bend(surveyed: _Surveyed) -> Worked:
    fields, tie_in = surveyed.fields, surveyed.tie_in
    request = replace(
        surveyed.spool, leg_a_mm=tie_in.leg_a_mm, leg_b_mm=tie_in.leg_b_mm, included_deg=tie_in.included_deg
    )
    answer = build(request)
    extras, more = asked_for(fields, request, answer)
    extras["survey"] = _survey_values(surveyed)
    if fields.flag("propose"):
        proposals = propose(request)
        extras["proposals"] = proposal_values(proposals, graduation=request.graduation)
        more = (*more, *proposal_lines(proposals))
    built = tuple(finding for finding in answer.findings if finding.code not in NO_JIG)
    answer = as_checked(answer, (*surveyed.found, *tie_in.findings, *built, *unread_keys(fields)))
    lines = (*_survey_lines(surveyed), *explain(request, answer), *more)
    return Worked(answer_values(answer, request, extras), lines, answer.buildable)


def _two_bends(surveyed: _Surveyed) -> Worked:
    fields, tie_in = surveyed.fields, surveyed.tie_in
    asked = _asked_bends(fields)
    axes = (surveyed.shots.axis_a, surveyed.shots.axis_b)
    a, b = (Port(axis.port, axis.along) for axis in axes)
    try:
        plans = two_bend_plans(
            surveyed.spool, a, b, bends=asked, whole_too=not (fields.has("bend") or fields.has("bends"))
        )
    except NoTwoBend as refused:
        return _no_spool(surveyed, (*tie_in.findings, error("no_two_bend", str(refused))))
    request, found = chain_on(fields, plans[0].line.line, bends=plans[0].bends)
    answer = build_chain(request)
    # no single bend: that is why two are built, so it stops nothing any more
    said = tuple(replace(one, level="warning") if one.level == "error" else one for one in tie_in.findings)
    extras, more = asked_for(fields, request, answer)
    extras |= {
        "survey": _survey_values(surveyed),
        "two_bend": [_two_bend_values(plan) for plan in plans],
    }
    answer = as_checked(answer, (*found, *said, *answer.findings, *unread_keys(fields)))
    lines = (*_survey_lines(surveyed), *explain_chain(request, answer), *more)
    return Worked(answer_values(answer, request, extras), lines, answer.buildable)


def _asked_bends(fields: Fields) -> tuple[BendChoice, BendChoice]:
    """Return the make-ups of both bends.

    Raises:
        RequestError: not two.

    """
    bends = asked_bends(fields, 2)
    if len(bends) != 2:
        raise RequestError(f"bends: a surveyed spool has two bends, not {len(bends)}: name both, or give one bend.")
    return bends[0], bends[1]


def _no_spool(surveyed: _Surveyed, findings: tuple[Finding, ...]) -> Worked:
    found = (*surveyed.found, *findings, *unread_keys(surveyed.fields))
    values = {
        "buildable": False,
        "legs_mm": {"a": surveyed.tie_in.leg_a_mm, "b": surveyed.tie_in.leg_b_mm},
        "turn_deg": surveyed.tie_in.turn_deg,
        "take_off_mm": None,
        "pieces": [],
        "check_mm": None,
        "survey": _survey_values(surveyed),
        "findings": [finding_values(finding) for finding in found],
    }
    return Worked(values, tuple(finding.text for finding in found), built=False)


def _survey_lines(surveyed: _Surveyed) -> tuple[str, ...]:
    shots = surveyed.shots
    return survey_lines(
        surveyed.tie_in,
        axes=(shots.axis_a, shots.axis_b),
        joints_take_mm=shots.joints_take_mm,
        graduation=surveyed.spool.graduation,
    )


def _survey_values(surveyed: _Surveyed) -> dict[str, Any]:
    values: dict[str, Any] = plain_values(surveyed.tie_in)
    del values["findings"]
    axes = (surveyed.shots.axis_a, surveyed.shots.axis_b)
    values["residuals_mm"] = {name: list(axis.residuals_mm) for name, axis in zip("ab", axes, strict=True)}
    values["joints_take_mm"] = surveyed.shots.joints_take_mm
    return values


def _two_bend_values(plan: TwoBendPlan) -> dict[str, Any]:
    values: dict[str, Any] = plain_values(plan.line)
    values["bends"] = [make_up(bend.kind).words(bend) for bend in plan.bends]
    return values
