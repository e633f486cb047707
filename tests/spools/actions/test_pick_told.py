"""Two people told a step differently: the foreman picks the first or the second in one tap."""

import pytest

from spools.actions.pick_told import pick_told
from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Bench
from spools.queries.welds import measured_of
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def crew(spool):
    welders = [make_person(spool.shop, Role.FITTER, Role.CUTTER, name=name) for name in ("Ruiz", "Banner", "Osei")]
    return [*welders, make_person(spool.shop, Role.FOREMAN, name="Kellan")]


def tap(spool, step, person, **fields):
    call = {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON}
    recorded = record_step(step=step, tap=Tap(already=True, **fields), **call)
    spool.refresh_from_db()
    return recorded


def pick(spool, person, which, key=""):
    (hold,) = spool.the_standing.holds
    recorded = pick_told(
        spool_id=spool.id, hold=hold.number, which=which, person=person, key=key or make_key(), at=NOON
    )
    spool.refresh_from_db()
    return recorded


def told_twice(spool, crew):
    one, two = (Bench.objects.create(shop=spool.shop, name=name).id for name in ("1", "2"))
    tap(spool, "welded", crew[0], bench_id=one, procedure="WP-3")
    tap(spool, "welded", crew[1], bench_id=two, procedure="WP-9")
    return one, two


def welds(spool):
    return [
        (event.person.short_name, event.bench_id)
        for event in spool.events.filter(code="welded", undone_by=None).select_related("person")
    ]


def test_the_first_word_stands_and_the_spool_goes_on(spool, crew):
    one, _ = told_twice(spool, crew)
    pick(spool, crew[3], "first")
    assert (spool.hold_count, welds(spool)) == (0, [("Ruiz", one)])


def test_the_second_word_takes_its_place_as_its_teller_told_it(spool, crew):
    _, two = told_twice(spool, crew)
    pick(spool, crew[3], "second")
    assert (spool.hold_count, welds(spool), spool.next_step) == (0, [("Banner", two)], "accepted")
    event = spool.events.get(code="welded", undone_by=None)
    assert event.details["welds"][0][1:] == [crew[1].id, "WP-9"]
    assert spool.the_standing.attempts == 1  # nothing was found wrong with the weld


def test_a_repeated_key_picks_once(spool, crew):
    told_twice(spool, crew)
    (hold,) = spool.the_standing.holds
    call = {"spool_id": spool.id, "hold": hold.number, "person": crew[3], "key": "key-of-the-pick", "at": NOON}
    pick_told(which="second", **call)
    assert pick_told(which="second", **call).repeated
    assert len(welds(spool)) == 1


def test_the_second_length_of_c_is_the_one_that_counts(spool, crew):
    tap(spool, "welded", crew[0])
    tap(spool, "accepted", crew[1], check_mm=spool.check_mm)
    tap(spool, "accepted", crew[2], check_mm=spool.check_mm + 2.0)
    pick(spool, crew[3], "second")
    found = measured_of(spool, spool.events.filter(undone_by=None).select_related("person"))
    assert (found.by, round(found.off_mm, 3)) == ("Osei", 2.0)


def test_a_second_length_that_is_out_of_tolerance_is_refused_and_the_hold_stays(spool, crew):
    tap(spool, "welded", crew[0])
    tap(spool, "accepted", crew[1], check_mm=spool.check_mm)
    tap(spool, "accepted", crew[2], check_mm=spool.check_mm + 9.0)
    with pytest.raises(ShopError) as refusal:
        pick(spool, crew[3], "second")
    assert refusal.value.code == "check_off"
    spool.refresh_from_db()
    assert (spool.hold_count, bool(spool.accepted_at)) == (1, True)


def test_what_stands_on_the_first_is_not_taken_back_unasked(spool, crew):
    one, two = (Bench.objects.create(shop=spool.shop, name=name).id for name in ("1", "2"))
    tap(spool, "welded", crew[0], bench_id=one)
    tap(spool, "accepted", crew[2], check_mm=spool.check_mm)
    tap(spool, "welded", crew[1], bench_id=two)
    with pytest.raises(ShopError) as refusal:
        pick(spool, crew[3], "second")
    assert refusal.value.code == "depends"
    spool.refresh_from_db()
    assert (spool.hold_count, bool(spool.accepted_at)) == (1, True)


@pytest.mark.parametrize(("who", "which", "code"), [(0, "second", "not_your_role"), (3, "third", "not_found")])
def test_a_fitter_does_not_pick_and_there_is_no_third(spool, crew, who, which, code):
    told_twice(spool, crew)
    with pytest.raises(ShopError) as refusal:
        pick(spool, crew[who], which)
    assert refusal.value.code == code
