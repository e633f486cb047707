"""Which of D and E a tie-in still needs: where C can't vouch for a leg, or can't tell mistakes apart."""

from geometry.checks import check_reading
from spools.models import Reading, SetPoints, TieIn
from spools.solving import Typed, judge, understand
from spools.stored_readings import check_input_of

HOW_TO_TAKE = {
    "D": "Take D: from a mark 12 in from the pivot on leg A to end B, read from the hook.",
    "E": "Take E: from a mark 12 in back from end A to end B, read from the hook.",
}


def further_of_reading(reading: Reading) -> tuple[str, ...]:
    """Return the measures, D and E, that a kept reading still needs."""
    return check_reading(check_input_of(reading)).needs


def further_of_tie_in(tie_in: TieIn) -> tuple[str, ...]:
    """Return what the reading in force at a tie-in still needs; nothing where none was taken."""
    if tie_in.current_reading_id is None:
        return ()
    return further_of_reading(
        Reading.objects.select_related("set_points", "tie_in__job").get(id=tie_in.current_reading_id)
    )


def further_of_typed(tie_in: TieIn, typed: Typed, set_points: SetPoints) -> tuple[str, ...]:
    """Return what a reading just typed needs. Raises ``ShopError`` ``invalid`` where it can't be read."""
    understood = understand(typed, units=tie_in.job.units, set_points=set_points)
    ends = (typed.measured_to_a or tie_in.measured_to_a, typed.measured_to_b or tie_in.measured_to_b)
    report = judge(tie_in, understood, set_points=set_points, ends=ends).report
    return report.needs if report else ()


def say_further(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return how each measure is taken, in words."""
    return tuple(HOW_TO_TAKE[name] for name in names)
