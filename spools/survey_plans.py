"""What survey shots of a tie-in ask for, and the two-bend spools that could be built between its two ports."""

from collections.abc import Sequence

from geometry.axes import axis_from_shots
from geometry.build import build_chain
from geometry.tables import UnknownPipe
from geometry.two_bend import Port
from geometry.two_bend_choice import NoTwoBend
from geometry.two_bend_plan import TwoBendPlan, two_bend_plans
from geometry.vectors import Vector
from spools.imports.shots import SurveyLine
from spools.laid_out import laid_out, say_made, say_turns
from spools.models import TieIn
from spools.solving import asked_of, bend_of

STANDS_FOR = "trimmed_elbow"  # where trimmed elbows are asked for, whole ones do as well


def plans_of(tie_in: TieIn, shots_a: Sequence[Vector], shots_b: Sequence[Vector]) -> tuple[TwoBendPlan, ...]:
    """Return the plans that can be built, best first: whole elbows before trimmed ones, short before long.

    Raises ``NoTwoBend`` with what stands in the way, ``SurveyError`` for shots that give no axis.
    """
    a, b = (Port(axis.port, axis.along) for axis in (axis_from_shots(shots_a), axis_from_shots(shots_b)))
    try:
        asked = asked_of(tie_in, (tie_in.measured_to_a, tie_in.measured_to_b))
    except UnknownPipe as refusal:
        raise NoTwoBend(str(refusal)) from refusal
    bend = bend_of(tie_in)
    plans = two_bend_plans(asked, a, b, bends=(bend, bend), whole_too=bend.kind == STANDS_FOR)
    answers = [(plan, build_chain(plan.request_on(asked))) for plan in plans]
    buildable = tuple(plan for plan, answer in answers if answer.buildable)
    if not buildable:
        raise NoTwoBend(next(finding.text for finding in answers[0][1].findings if finding.level == "error"))
    return buildable


def say_joined(line: SurveyLine, tie_in: TieIn) -> str:
    """Return how two bends would join the surveyed ends, or why nothing does; empty where one bend is enough."""
    if line.made.make != "two_bends":
        return ""
    try:
        best = laid_out(plans_of(tie_in, line.shots_a, line.shots_b)[0])
    except NoTwoBend as refusal:
        return f"! kept as a survey only. {refusal}"
    return f"two bends, {say_made(best)}: {say_turns(best)}. The foreman chooses."
