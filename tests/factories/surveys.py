"""Surveyed tie-ins: shots on both axes, brought as a list brings them."""

from geometry.axes import axis_from_shots
from geometry.survey import tie_in_from_axes
from geometry.vectors import Vector
from spools.actions.bring_shots import bring_shots
from spools.actions.lay_out import lay_out
from spools.flow.roles import Role
from spools.imports.checked import GoodRow
from spools.imports.shots import JOINTS_TAKE_MM, SurveyLine
from spools.imports.table import Row
from spools.models import Reading, Spool, TieIn
from spools.queries.lay_outs import ways_to_lay_out
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key

Shots = tuple[Vector, Vector]
AT_MAIN: Shots = ((-600.0, 0.0, 0.0), (0.0, 0.0, 0.0))
ROLLING: Shots = ((2600.0, 355.6, 241.3), (2000.0, 355.6, 241.3))  # parallel to the main's axis: a rolling offset
SKEWED: Shots = ((1100.0, 1300.0, 160.0), (1100.0, 700.0, 160.0))  # passes the main's axis 160 mm above it


def bring(tie_in: TieIn, at_drain: Shots = ROLLING, at_main: Shots = AT_MAIN) -> Reading | None:
    """Bring the shots of one tie-in, and return the reading that they became."""
    made = tie_in_from_axes(axis_from_shots(at_main), axis_from_shots(at_drain), joints_take_mm=JOINTS_TAKE_MM)
    line = SurveyLine(tie_in_id=tie_in.id, mark=tie_in.mark, shots_a=at_main, shots_b=at_drain, made=made)
    person = make_person(tie_in.job.shop, Role.FIELD)
    bring_shots(lines=[GoodRow(2, Row(2, {}), line, "", (2,))], person=person, key=make_key(), at=NOON)
    return tie_in.readings.order_by("-revision").first()


def two_bend_spool(tie_in: TieIn, at_drain: Shots = ROLLING, way: int = 0) -> Spool:
    """Return a released spool of two bends, by one of its ways."""
    reading = bring(tie_in, at_drain)
    assert reading is not None
    foreman = make_person(tie_in.job.shop, Role.FOREMAN)
    code = ways_to_lay_out(reading)[way].code
    return lay_out(reading_id=reading.id, code=code, person=foreman, key=make_key(), at=NOON, reason="as drawn")
