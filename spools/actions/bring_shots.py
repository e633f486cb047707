"""Keep a checked list of survey shots; what one bend or two can join becomes a reading for the foreman to release."""

from collections.abc import Sequence
from datetime import datetime

from geometry.two_bend_choice import NoTwoBend
from geometry.two_bend_plan import TwoBendPlan
from spools.actions.bring_readings import Brought
from spools.actions.take_reading import take_reading
from spools.errors import not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.imports.checked import GoodRow
from spools.imports.shots import SurveyLine
from spools.laid_out import laid_out
from spools.models import SURVEY_JIG, Jig, Person, Reading, SetPoints, Survey, TieIn
from spools.solving import Typed, TypedOfTwoBends
from spools.stored_solutions import stored_finding
from spools.survey_plans import plans_of
from spools.transactions import all_or_nothing, part_key

WHO = frozenset({Role.FIELD, Role.FOREMAN})


@all_or_nothing
def bring_shots(*, lines: Sequence[GoodRow[SurveyLine]], person: Person, key: str, at: datetime) -> Brought:
    """Keep every line; ``key`` and the line make each one's own key, so a repeat adds nothing.

    Raises ``ShopError``: not_your_role, not_found, measured_before where one was read meanwhile; then none is kept.
    """
    if not person.may(WHO):
        raise not_your_role("Bring survey shots", say_roles(WHO))
    points = _points(person, at)
    readings = [_keep(line, points, person=person, key=part_key(key, line.line), at=at) for line in lines]
    return Brought(len(lines), sum(reading is not None for reading in readings))


def _points(person: Person, at: datetime) -> SetPoints:
    """A survey reads from the axes themselves: no set point, no burn, no range."""
    jig, _ = Jig.objects.get_or_create(shop_id=person.the_shop_id, serial=SURVEY_JIG)
    points, _ = SetPoints.objects.get_or_create(
        jig=jig,
        version=1,
        defaults={
            "valid_from": at,
            "set_point_a_mm": 0.0,
            "set_point_b_mm": 0.0,
            "usual_burn": "0 mm",
            "included_min_deg": 0.1,
            "leg_min_mm": 0.1,
            "leg_max_mm": 30_480.0,
        },
    )
    return points


def _keep(line: GoodRow[SurveyLine], points: SetPoints, *, person: Person, key: str, at: datetime) -> Reading | None:
    earlier = Survey.objects.for_person(person).filter(key=key).select_related("reading").first()
    if earlier:
        return earlier.reading
    value = line.value
    tie_in = TieIn.objects.for_person(person).select_related("job", "main").filter(id=value.tie_in_id).first()
    if tie_in is None:
        raise not_found("tie-in of that mark")
    asked = _one_bend(value) or _two_bends(value, tie_in)
    reading = (
        take_reading(
            tie_in_id=tie_in.id,
            set_points_id=points.id,
            typed=asked,
            person=person,
            key=part_key(key, "reading"),
            at=at,
            keep_anyway=True,
        ).reading
        if asked
        else None
    )
    Survey.objects.create(
        tie_in_id=value.tie_in_id,
        key=key,
        shots={"a": value.shots_a, "b": value.shots_b},
        findings=[stored_finding(finding) for finding in value.findings],
        reading=reading,
        by=person,
        received_at=at,
    )
    return reading


def _one_bend(value: SurveyLine) -> Typed | None:
    made = value.made
    if made.make == "two_bends" or min(made.leg_a_mm, made.leg_b_mm) <= 0.0:
        return None
    note = f"from survey shots; the axes miss each other by {made.skew_mm:.1f} mm"
    return Typed(**_as_typed(made.leg_a_mm, made.leg_b_mm, made.included_deg), note=note)


def _two_bends(value: SurveyLine, tie_in: TieIn) -> Typed | None:
    if value.made.make != "two_bends":
        return None
    try:
        return typed_of_plan(plans_of(tie_in, value.shots_a, value.shots_b)[0])
    except NoTwoBend:
        return None


def typed_of_plan(plan: TwoBendPlan) -> Typed:
    """Return a plan as a reading is typed."""
    line = plan.line
    outer = _as_typed(line.leg_a_mm, line.leg_b_mm, 180.0 - line.turn_1_deg)
    return TypedOfTwoBends(**outer, note="from survey shots, with two bends", line=laid_out(plan))


def _as_typed(leg_a_mm: float, leg_b_mm: float, included_deg: float) -> dict[str, str]:
    """Return what the axes themselves give, as it would be typed: no burn, no set point."""
    return {
        "leg_a": f"{leg_a_mm:.2f} mm",
        "leg_b": f"{leg_b_mm:.2f} mm",
        "included": f"{included_deg:.4f}",
        "burn_a": "0 mm",
        "burn_b": "0 mm",
    }
