"""A rush says what it pushes back and whom it makes late; and how many rushes are too many."""

from datetime import timedelta

import pytest

from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.actions.rush_spool import rush_spool
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.rushes import OpenRushes
from spools.models import Bench, Spool
from spools.queries.rush import open_rushes, rush_asked
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def floor():
    first = make_spool("301")
    spools = [first, *(make_spool(str(number), job=first.tie_in.job) for number in (302, 303, 304))]
    foreman = make_person(first.shop, *Role)
    bench = Bench.objects.create(shop=first.shop, name="1", operations=["welded"])
    for place, spool in enumerate(spools):
        call = {"spool_id": spool.id, "person": foreman, "at": NOON}
        for step in ("cut", "grooved", "beveled"):
            record_step(step=step, key=make_key(), **call)
        put_on_bench(bench_id=bench.id, key=make_key(), **call)
        Spool.objects.filter(id=spool.id).update(due_at=NOON + timedelta(hours=1 + place))
    return [Spool.objects.get(id=spool.id) for spool in spools], foreman


def test_it_goes_in_front_of_what_is_due_before_it_on_its_bench(floor):
    spools, foreman = floor
    asked = rush_asked(spools[3], foreman, at=NOON)
    assert [one.spool.label for one in asked.pushed] == ["301", "302", "303"]
    assert asked.hours == 1.0  # two welds of half an hour, assumed: five of NPS 6 haven't been welded here


def test_it_says_whom_it_makes_late(floor):
    spools, foreman = floor
    # 1 h each: done after 1, 2, 3 h, due after 1, 2, 3 h; one more hour in front makes each of them late.
    assert [one.late for one in rush_asked(spools[3], foreman, at=NOON).pushed] == [True, True, True]
    Spool.objects.filter(id=spools[1].id).update(due_at=NOON + timedelta(hours=3, minutes=30))
    # 303 comes second then, and is done in time even after the rush; 302 is third and is not.
    late = {one.spool.label: one.late for one in rush_asked(spools[3], foreman, at=NOON).pushed}
    assert late == {"301": True, "303": False, "302": True}


def test_what_is_rushed_held_or_accepted_is_not_pushed_back(floor):
    spools, foreman = floor
    call = {"person": foreman, "at": NOON}
    rush_spool(spool_id=spools[0].id, key=make_key(), asked_by="Larkfield", by_when="Fri", **call)
    record_step(spool_id=spools[1].id, step="welded", key=make_key(), tap=Tap(), **call)
    accepted = Tap(check_mm=spools[1].check_mm)
    other = make_person(spools[0].shop, Role.FITTER)
    record_step(spool_id=spools[1].id, step="accepted", key=make_key(), person=other, at=NOON, tap=accepted)
    assert [one.spool.label for one in rush_asked(spools[3], foreman, at=NOON).pushed] == ["303"]
    assert open_rushes(foreman) == OpenRushes(rushed=1, in_work=3)


def test_who_asked_and_by_when_stand_in_the_story(floor):
    spools, foreman = floor
    call = {"spool_id": spools[2].id, "person": foreman, "key": make_key(), "at": NOON}
    event = rush_spool(asked_by="Larkfield", by_when="Fri 10:00", reason="apron pour", **call).event
    assert event.reason == "Larkfield asked, by Fri 10:00: apron pour"
    assert event.details["asked_by"] == "Larkfield"


@pytest.mark.parametrize("role", [Role.MANAGER, Role.FITTER, Role.FIELD])
def test_only_the_foreman_rushes(floor, role):
    spools, _ = floor
    person = make_person(spools[0].shop, role)
    with pytest.raises(ShopError) as refusal:
        rush_spool(spool_id=spools[0].id, person=person, key=make_key(), at=NOON, asked_by="me", by_when="now")
    assert refusal.value.code == "not_your_role"


@pytest.mark.parametrize(
    ("rushed", "in_work", "too_many"), [(0, 0, False), (1, 3, False), (2, 19, True), (2, 20, False)]
)
def test_more_than_one_in_ten_is_too_many_and_one_is_always_allowed(rushed, in_work, too_many):
    assert OpenRushes(rushed, in_work).too_many is too_many
