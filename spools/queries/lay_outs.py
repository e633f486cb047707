"""The ways to join a tie-in's surveyed ends by two bends, as the foreman chooses among them."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from geometry.axes import SurveyError
from geometry.build import SpoolAnswer, build_chain
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.isometric import isometric_view
from geometry.drawing.svg import to_svg
from geometry.two_bend_choice import NoTwoBend
from geometry.two_bend_plan import TwoBendPlan
from spools.laid_out import LaidOut, laid_out, read_laid_out, say_made, say_turns
from spools.models import Reading, Survey, TieIn
from spools.say_lengths import say_length
from spools.solving import asked_of
from spools.survey_plans import plans_of


@dataclass(frozen=True, slots=True, kw_only=True)
class WayToLayOut:
    """One plan: what names it in a form, its turns, make-ups and pieces in words, its weight, how it looks."""

    code: str
    made: str
    turns: str
    pieces: str
    welds: int
    kg: float
    picture: SafeString
    now: bool


def ways_to_lay_out(reading: Reading) -> tuple[WayToLayOut, ...]:
    """Return the plans for a reading of two bends, best first (one query); nothing for any other reading."""
    line = read_laid_out(reading.line)
    if line is None:
        return ()
    return tuple(_way(plan, line, reading) for plan in plans_of_survey(reading.tie_in))


def plans_of_survey(tie_in: TieIn) -> tuple[TwoBendPlan, ...]:
    """Return the plans that the newest survey of a tie-in gives as it is made now; none where nothing fits."""
    survey = newest_survey(tie_in)
    if survey is None:
        return ()
    a, b = ([(x, y, z) for x, y, z in survey.shots[axis]] for axis in "ab")
    try:
        return plans_of(tie_in, a, b)
    except (NoTwoBend, SurveyError):
        return ()


def newest_survey(tie_in: TieIn) -> Survey | None:
    """Return the shots that count at a tie-in."""
    return Survey.objects.filter(tie_in=tie_in).order_by("-received_at", "-id").first()


def code_of(plan: TwoBendPlan) -> str:
    """Return what names a plan in a form."""
    line = plan.line
    kinds = (bend.kind for bend in plan.bends)
    return "/".join([*kinds, f"{line.turn_1_deg:.3f}", f"{line.turn_2_deg:.3f}", f"{line.twist_deg:.2f}"])


def _way(plan: TwoBendPlan, now: LaidOut, reading: Reading) -> WayToLayOut:
    tie_in, line = reading.tie_in, laid_out(plan)
    request = plan.request_on(asked_of(tie_in, (reading.measured_to_a, reading.measured_to_b)))
    answer = build_chain(request)
    described = spool_drawing(request, answer, mark=tie_in.mark, hand=reading.the_hand)
    return WayToLayOut(
        code=code_of(plan),
        made=say_made(line),
        turns=say_turns(line),
        pieces=_pieces(answer, tie_in.job.units),
        welds=len(answer.joints),
        kg=answer.mass_black_kg,
        picture=mark_safe(to_svg(isometric_view(described))),  # noqa: S308  the SVG writer escapes every text
        now=_same(line, now),
    )


def _pieces(answer: SpoolAnswer, units: str) -> str:
    cut = [piece for piece in answer.pieces if piece.kind in {"pipe", "bent_pipe"}]
    return ", ".join(f"{piece.mark} {say_length(piece.rounded_cut_mm, units)}" for piece in cut)


def _same(one: LaidOut, other: LaidOut) -> bool:
    """Tell whether two lines are the same one, worked out at different times."""
    pairs = zip((*one.line.legs_mm, *one.line.turns_deg), (*other.line.legs_mm, *other.line.turns_deg), strict=True)
    return one.bends == other.bends and all(abs(was - now) < 1e-3 for was, now in pairs)
