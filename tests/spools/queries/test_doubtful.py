"""A failed jig check lists every reading since its last good one, none missed and none extra."""

from datetime import timedelta
from math import hypot

import pytest

from geometry.centerline import CenterlineRequest, lay_out
from spools.actions.check_jig import MasterPosition, check_jig
from spools.actions.hold_doubtful import hold_doubtful
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import Jig
from spools.queries.doubtful import face_off_mm, sweeps
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, take

HOUR = timedelta(hours=1)


@pytest.mark.parametrize(("leg_mm", "drift_deg"), [(400.0, 0.5), (900.0, -0.8), (1400.0, 2.0)])
def test_inches_off_at_the_face_are_those_of_the_center_line_laid_out_twice(leg_mm, drift_deg):
    right, wrong = (
        lay_out(CenterlineRequest((500.0, leg_mm), (turn,))).points[-1] for turn in (50.0, 50.0 + drift_deg)
    )
    off_mm = hypot(*(a - b for a, b in zip(right, wrong, strict=True)))
    assert face_off_mm(longer_leg_mm=leg_mm, drift_deg=drift_deg) == pytest.approx(off_mm, abs=1e-6)


@pytest.fixture
def swept(db):
    job = make_job(make_shop())
    foreman = make_person(job.shop, *Role)

    def check(off_deg: float, hours: int) -> None:
        position = MasterPosition(name="long", length_off_mm=0.0, included_off_deg=off_deg)
        check_jig(
            jig_id=Jig.objects.get(shop=job.shop).id,
            positions=(position,),
            person=foreman,
            key=make_key() + "-check",
            at=NOON + HOUR * hours,
        )

    taken = {"before": take(make_tie_in(job, "100"), at=NOON - HOUR)}
    check(0.0, 0)
    for hours, mark in ((1, "101"), (2, "102"), (3, "103")):
        taken[mark] = take(make_tie_in(job, mark), at=NOON + HOUR * hours)
    check(-0.8, 4)
    check(0.0, 6)
    taken["after"] = take(make_tie_in(job, "104"), at=NOON + HOUR * 7)
    tap = Tap(targets=("A",), already=False)
    record_step(
        spool_id=taken["102"].spool.id, step="cut", person=foreman, key=make_key() + "-cut", at=NOON + HOUR * 3, tap=tap
    )
    return foreman, taken


def test_the_list_holds_exactly_the_readings_between_the_good_checks(swept):
    foreman, _ = swept
    (sweep,) = sweeps(foreman, at=NOON + HOUR * 8)
    assert sorted(row.reading.tie_in.mark for row in sweep.rows) == ["101", "102", "103"]
    assert (sweep.since, sweep.until) == (NOON, NOON + HOUR * 6)


def test_all_of_them_are_put_on_hold_once_however_often_it_is_pressed(swept):
    foreman, taken = swept
    (sweep,) = sweeps(foreman, at=NOON + HOUR * 8)
    for _ in range(2):
        hold_doubtful(
            check=sweep.check, spool_ids=sweep.to_hold, person=foreman, key="key-of-the-hold", at=NOON + HOUR * 8
        )
    (again,) = sweeps(foreman, at=NOON + HOUR * 9)
    assert [row.spool.hold_count for row in again.rows] == [1, 1, 1]
    assert again.to_hold == ()
    taken["after"].spool.refresh_from_db()
    assert taken["after"].spool.hold_count == 0
