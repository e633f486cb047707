"""Field paper from rows."""

import pytest

from cutlists.papers.field import SPARE_LINES, field_log_of, jig_slip_of
from cutlists.papers.heading import Printing
from spools.models import Main
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_shop
from tests.factories.spools import NOON, take

pytestmark = pytest.mark.django_db


def test_the_log_lists_what_is_not_measured_in_walking_order_and_some_empty_lines() -> None:
    job = make_job(make_shop())
    for mark, station in (("3", 3000.0), ("1", 1000.0), ("2", 2000.0)):
        make_tie_in(job, mark, station_mm=station)
    take(make_tie_in(job, "4", station_mm=4000.0))
    log = field_log_of(Main.objects.get(), Printing(foreman_of(job.shop), NOON))
    assert [line.mark for line in log.lines] == ["1", "2", "3", *[""] * SPARE_LINES]


def test_the_slip_says_the_set_points_and_leaves_the_master_to_the_pen() -> None:
    points = make_set_points(make_shop())
    slip = jig_slip_of(points, Printing(foreman_of(points.jig.shop), NOON))
    assert slip.set_points == 'A 4", B 4", version 1, usual burn 4'
    assert {master.leg_a_mm for master in slip.masters} == {None}
