"""What every worked request shares: the result, its values, and what was asked for besides the pieces."""

from dataclasses import dataclass, replace
from typing import Any

from geometry.answer import finding_values, overall_values, plain_values, spool_values, wrap_values
from geometry.explain_more import size_lines, wrap_lines, zinc_lines
from geometry.findings import Finding, has_errors
from geometry.galvanizing import ToZinc, dip
from geometry.overall import Overall, overall
from geometry.piece_wraps import piece_wraps
from geometry.request import Fields, asked_layout
from geometry.request.zinc import AskedZinc, asked_zinc
from geometry.spool import ChainRequest, SpoolAnswer, SpoolRequest
from geometry.vents import Space


@dataclass(frozen=True, slots=True)
class Worked:
    """A request's answer as plain values, its working in lines, and whether it could be built."""

    values: dict[str, Any]
    lines: tuple[str, ...]
    built: bool


def as_checked(answer: SpoolAnswer, findings: tuple[Finding, ...]) -> SpoolAnswer:
    """Return the answer with all findings; one error among them takes the pieces away."""
    found = tuple(dict.fromkeys(findings))
    if not has_errors(found):
        return replace(answer, findings=found)
    return replace(
        answer,
        buildable=False,
        pieces=(),
        joints=(),
        marks=(),
        steps=(),
        rounded_steps=(),
        rounded_check_mm=0.0,
        mass_black_kg=0.0,
        findings=found,
    )


def asked_for(
    fields: Fields, request: SpoolRequest | ChainRequest, answer: SpoolAnswer
) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Return what was asked for besides the pieces, and its working: wraps, the spool in space, its way to the zinc."""
    extras: dict[str, Any] = {}
    lines: list[str] = []
    in_space, galvanized = fields.flag("in_space"), fields.wanted("galvanized")
    layout = asked_layout(fields) if fields.wanted("wraps") else None
    zinc = asked_zinc(fields, ends=(request.end_a, request.end_b)) if galvanized else None
    if not answer.buildable:
        return {}, ()
    if layout is not None:
        wraps = piece_wraps(answer, request, layout=layout)
        extras["wraps"] = wrap_values(wraps)
        lines += wrap_lines(wraps, request.graduation)
    size = overall(answer, request.pipe) if in_space or zinc is not None else None
    if size is not None and in_space:
        extras["in_space"] = overall_values(size)
        lines += size_lines(size, request.graduation)
    if size is not None and zinc is not None:
        spool = _to_zinc(request, answer, size, zinc)
        extras["galvanizing"] = plain_values(dip(spool))
        lines += zinc_lines(spool, dip(spool))
    return extras, tuple(lines)


def _to_zinc(request: SpoolRequest | ChainRequest, answer: SpoolAnswer, size: Overall, zinc: AskedZinc) -> ToZinc:
    space = Space(
        name="the spool",
        nps=request.pipe.nps,
        id_mm=request.pipe.id_mm,
        open_ends=2 - len(zinc.closed_ends),
        closed_ends=zinc.closed_ends,
    )
    return ToZinc(
        pipe=request.pipe,
        center_line_mm=sum(piece.cut_length_mm for piece in answer.pieces),
        black_kg=answer.mass_black_kg,
        box_mm=size.box_mm,
        spaces=(space,),
        pads=zinc.pads,
        preps=(request.end_a.prep, request.end_b.prep),
        turns_deg=answer.turns_deg,
        work_after=zinc.work_after,
    )


def answer_values(answer: SpoolAnswer, request: SpoolRequest | ChainRequest, extras: dict[str, Any]) -> dict[str, Any]:
    """Return the answer's values with its findings and what was asked for besides."""
    return {
        **spool_values(answer, graduation=request.graduation),
        "findings": [finding_values(finding) for finding in answer.findings],
        **extras,
    }
