"""Which make-ups of a turn can be built, best first with reasons, and why the others can't."""

from dataclasses import dataclass, replace
from math import radians

from geometry.bends import MAKE_UPS, BendChoice
from geometry.bends.base import weld_length_mm
from geometry.build import build
from geometry.centerline import is_straight
from geometry.findings import Finding
from geometry.lengths import format_length
from geometry.spool import SpoolAnswer, SpoolRequest

ASKS_SOMEONE = frozenset(
    {
        "miter_line_class",
        "miter_needs_engineer",
        "miter_radius_short",
        "miter_end_short",
        "turn_under_3",
        "bender_marks",
        "bend_tight",
    }
)
"""Warnings of a make-up that wait for somebody's yes: such a make-up comes after those that need none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A make-up that can be built: its rank from 1, the choice in words, why it stands there, and the answer."""

    rank: int
    bend: BendChoice
    words: str
    reasons: tuple[str, ...]
    welds: int
    weld_length_mm: float
    left_over_mm: float
    answer: SpoolAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """A make-up that can't be built, and the findings that say why and what would do."""

    bend: BendChoice
    words: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposals:
    """Make-ups that can be built, best first, and those that can't."""

    ranked: tuple[Proposal, ...]
    refused: tuple[Refusal, ...]


def propose(request: SpoolRequest) -> Proposals:
    """Try every make-up on a tie-in.

    Best first: nobody's yes needed, then fewest welds, stock fittings before cut ones (the order of ``MAKE_UPS``),
    shortest weld, longest drop of elbow left over (on its center line). A reading that doesn't close is proposed for
    all the same; ``build`` refuses it. Source of the order: common practice, no source.

    Args: the tie-in; of its bend the welds' permission and a bender's radius are kept, the rest is tried out.
    Returns: the ranked and the refused; straight pipe has neither.
    """
    if is_straight(request.included_deg):
        return Proposals(ranked=(), refused=())
    can, refused = [], []
    for preference, kind in enumerate(MAKE_UPS):
        for choice in kind.candidates(request.bend):
            answer = build(replace(request, bend=choice, misclosure_accepted=True))
            if answer.buildable:
                can.append((preference, _proposal(choice, kind.words(choice), answer, request.pipe.od_mm)))
            else:
                errors = tuple(finding for finding in answer.findings if finding.level == "error")
                refused.append(Refusal(bend=choice, words=kind.words(choice), findings=errors))
    ranked = [proposal for _, proposal in sorted(can, key=_order)]
    return Proposals(
        ranked=tuple(replace(proposal, rank=rank) for rank, proposal in enumerate(ranked, start=1)),
        refused=tuple(refused),
    )


def _order(tried: tuple[int, Proposal]) -> tuple[bool, int, int, float, float]:
    preference, proposal = tried
    return (
        bool(_waits_for(proposal.answer)),
        proposal.welds,
        preference,
        proposal.weld_length_mm,
        -proposal.left_over_mm,
    )


def _waits_for(answer: SpoolAnswer) -> tuple[Finding, ...]:
    return tuple(found for found in answer.findings if found.level == "warning" and found.code in ASKS_SOMEONE)


def _proposal(choice: BendChoice, words: str, answer: SpoolAnswer, od_mm: float) -> Proposal:
    welds = sum(weld_length_mm(od_mm=od_mm, cut_angle_rad=radians(joint.turn_deg / 2.0)) for joint in answer.joints)
    left_over_deg = next((mark.value_mm for mark in answer.marks if mark.name == "left_over"), 0.0)
    fitting = next((piece for piece in answer.pieces if piece.made_from), None)
    count = len(answer.joints)
    reasons = [f"{count} weld{'' if count == 1 else 's'}" + (f", {format_length(welds)} of weld" if count else "")]
    if fitting:
        rest = f", {left_over_deg:.3g} degrees left over" if left_over_deg else ""
        reasons.append(f"from one stock {fitting.made_from}{rest}")
    reasons.append(f"take-off {format_length(answer.take_off_mm)}")
    reasons += [finding.text for finding in _waits_for(answer)]
    return Proposal(
        rank=0,
        bend=choice,
        words=words,
        reasons=tuple(reasons),
        welds=count,
        weld_length_mm=welds,
        left_over_mm=radians(left_over_deg) * (fitting.bend_radius_mm if fitting else 0.0),
        answer=answer,
    )
