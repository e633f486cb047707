"""A tie-in read off the jig, worked through: build, checks, fit, proposals."""

from dataclasses import replace
from typing import Any

from geometry.answer import plain_values, proposal_values
from geometry.build import build
from geometry.checks import CheckInput, CheckReport, check_reading
from geometry.explain import explain
from geometry.explain_checks import check_lines, fit_lines
from geometry.explain_more import proposal_lines
from geometry.findings import Finding
from geometry.fit import fit_report
from geometry.proposals import propose
from geometry.request import Fields, TieIn, check_input, fit_input, tie_in, unread_keys
from geometry.spool import SpoolAnswer
from geometry.worked.result import Worked, answer_values, as_checked, asked_for

CLOSING_CODES = frozenset({"check_missing", "does_not_close", "over_spool_tolerance"})
"""Findings of a build's plain closing check; the full check says them with the likely mistake."""


def tie_in_worked(fields: Fields) -> Worked:
    """Work a tie-in through: what is built, what the checks and the fit say, and what else was asked.

    Raises:
        RequestError: a field is missing or wrong.

    """
    asked = tie_in(fields)
    graduation = asked.spool.graduation
    answer = build(asked.spool) if asked.readable else _unreadable(asked)
    measured = check_input(fields, asked) if asked.readable else None
    report = check_reading(measured) if measured is not None and _any_check(measured) else None
    found = _findings(asked, answer, report)
    extras, lines = asked_for(fields, asked.spool, answer)
    if report is not None:
        extras["checks"] = _check_values(report)
        lines = (*check_lines(report, graduation), *lines)
    if fields.wanted("fit") and measured is not None and answer.buildable:
        asked_fit = fit_input(fields, asked, measured, take_off_mm=answer.take_off_mm)
        fit = fit_report(asked_fit)
        extras["fit"] = plain_values(fit)
        lines = (*lines, *fit_lines(fit, asked_fit.allowance, graduation))
        found = (*found, *fit.findings)
        del extras["fit"]["findings"]
    if fields.flag("propose") and asked.readable:
        proposals = propose(asked.spool)
        extras["proposals"] = proposal_values(proposals, graduation=graduation)
        lines = (*lines, *proposal_lines(proposals))
    answer = as_checked(answer, found + unread_keys(fields))
    working = explain(asked.spool, answer, sides=(asked.a, asked.b))
    return Worked(answer_values(answer, asked.spool, extras), (*working, *lines), answer.buildable)


def _unreadable(asked: TieIn) -> SpoolAnswer:
    """Return an answer for readings outside the jig's range: nothing is built on them."""
    legs = (asked.legs.leg_a_mm, asked.legs.leg_b_mm)
    return SpoolAnswer(buildable=False, legs_mm=legs, turn_deg=asked.legs.turn_deg, take_off_mm=0.0)


def _any_check(measured: CheckInput) -> bool:
    """Tell whether any of C, D and E was taken."""
    return any((measured.closing_mm, measured.mark_to_end_b_mm, measured.back_mark_to_end_b_mm))


def _findings(asked: TieIn, answer: SpoolAnswer, report: CheckReport | None) -> tuple[Finding, ...]:
    """Join the findings of request, jig, build and check; a full check replaces the build's plain one."""
    built = answer.findings
    checked: tuple[Finding, ...] = ()
    if report is not None:
        built = tuple(finding for finding in built if finding.code not in CLOSING_CODES)
        checked = report.findings
        if asked.spool.misclosure_accepted:
            checked = tuple(_let_go(finding) for finding in checked)
    return asked.findings + asked.legs.findings + built + checked


def _let_go(finding: Finding) -> Finding:
    if finding.code != "does_not_close":
        return finding
    return replace(finding, level="warning", text=f"{finding.text} Let go by a named person.")


def _check_values(report: CheckReport) -> dict[str, Any]:
    """Return the check as plain values; its findings stand with all others."""
    values: dict[str, Any] = plain_values(report)
    del values["findings"]
    return values
