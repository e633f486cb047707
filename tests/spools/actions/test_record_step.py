"""Steps are recorded once, in an order that physics allows, by those who may."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from spools.actions.hold_spool import hold_spool
from spools.actions.record_step import Tap, record_step
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Event, Piece
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


def tap(spool, step, person=None, role=Role.FOREMAN, **fields):
    person = person or make_person(spool.shop, role)
    call = {"key": make_key(), "at": NOON} | {k: fields.pop(k) for k in ("key", "at") if k in fields}
    recorded = record_step(spool_id=spool.id, step=step, person=person, tap=Tap(**fields), **call)
    spool.refresh_from_db()
    return recorded


def refusal(spool, step, **fields) -> ShopError:
    with pytest.raises(ShopError) as caught:
        tap(spool, step, **fields)
    return caught.value


def make_welded(spool, fitter=None):
    tap(spool, "cut")
    tap(spool, "grooved")
    tap(spool, "beveled")
    tap(spool, "welded", person=fitter)


def test_a_new_spool_is_measured_and_to_be_cut(spool):
    assert (spool.status, spool.next_step) == ("measured", "cut")


def test_status_is_the_earliest_step_that_some_piece_still_needs(spool):
    tap(spool, "cut", targets=("A",))
    assert (spool.status, spool.next_step) == ("measured", "cut")
    tap(spool, "cut")
    assert (spool.status, spool.next_step) == ("cut", "grooved")


def test_the_same_key_answers_as_the_first_time_and_adds_nothing(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    first = tap(spool, "cut", person=cutter, key="key-of-the-tap")
    again = tap(spool, "cut", person=cutter, key="key-of-the-tap")
    assert (again.event.id, again.repeated) == (first.event.id, True)
    assert spool.events.filter(code="cut").count() == 1


def test_a_key_with_other_content_is_refused(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    tap(spool, "cut", person=cutter, key="key-of-the-tap", targets=("A",))
    assert refusal(spool, "cut", person=cutter, key="key-of-the-tap", targets=("B",)).code == "key_reused"


def test_whoever_comes_second_hears_who_was_first(spool):
    tap(spool, "cut", person=make_person(spool.shop, Role.CUTTER, name="Ruiz"))
    second = tap(spool, "cut", role=Role.CUTTER)
    assert second.repeated
    assert "already cut by Ruiz" in second.words
    assert spool.events.filter(code="cut").count() == 1


def test_a_tap_out_of_order_asks_and_says_what_is_missing(spool):
    tap(spool, "cut")
    trouble = refusal(spool, "welded", role=Role.FITTER)
    assert trouble.code == "out_of_order"
    assert trouble.facts["missing"] == {"grooved": ["B.2"], "beveled": ["A.1", "A.2", "E.2", "B.1"]}
    assert spool.events.count() == 2


def test_already_done_writes_what_was_missing_marked_as_entered_later(spool):
    tap(spool, "cut")
    tap(spool, "welded", role=Role.FITTER, already=True)
    assert spool.status == "welded"
    assert list(spool.events.filter(entered_later=True).values_list("code", flat=True)) == ["grooved", "beveled"]


def test_a_driver_cannot_answer_for_the_fitter(spool):
    trouble = refusal(spool, "at_coating", role=Role.DRIVER, load_id=1, already=True)
    assert trouble.code == "out_of_order"
    assert spool.events.count() == 1


def test_the_wrong_role_is_told_whose_step_it_is(spool):
    trouble = refusal(spool, "cut", role=Role.DRIVER)
    assert (trouble.code, trouble.status) == ("not_your_role", 403)
    assert "cutter" in trouble.words


def test_another_shops_spool_is_not_there(spool):
    stranger = make_person(make_shop("Other shop"), Role.FOREMAN)
    assert refusal(spool, "cut", person=stranger).status == 404


def test_a_hold_stops_forward_steps(spool):
    foreman = make_person(spool.shop, Role.FOREMAN)
    hold_spool(spool_id=spool.id, person=foreman, key=make_key(), at=NOON, reason="no elbow in stock")
    trouble = refusal(spool, "cut")
    assert trouble.code == "on_hold"
    assert "no elbow in stock" in trouble.words


def test_a_target_that_is_not_on_the_route_is_refused(spool):
    assert refusal(spool, "cut", targets=("Z",)).code == "not_on_route"


def test_accepting_needs_the_check_dimension(spool):
    make_welded(spool)
    assert refusal(spool, "accepted").code == "invalid"


def test_the_welder_cannot_accept_the_own_weld(spool):
    fitter = make_person(spool.shop, Role.FITTER)
    make_welded(spool, fitter)
    assert refusal(spool, "accepted", person=fitter, check_mm=spool.check_mm).code == "same_person"


def test_a_check_dimension_that_is_off_needs_a_reason(spool):
    make_welded(spool)
    trouble = refusal(spool, "accepted", check_mm=spool.check_mm + 5)
    assert trouble.code == "check_off"
    assert "over" in trouble.words
    tap(spool, "accepted", check_mm=spool.check_mm + 5, reason="drain coupling has the room")
    assert spool.accepted_at == NOON


def test_a_heat_goes_to_the_pieces_that_were_cut(spool):
    from spools.models import Heat

    heat = Heat.objects.create(shop=spool.shop, number="7K2214")
    tap(spool, "cut", targets=("A",), heats={"A": heat.id, "B": heat.id})
    assert dict(Piece.objects.filter(spool=spool).values_list("mark", "heat__number")) == {
        "A": "7K2214",
        "E": None,
        "B": None,
    }


def test_what_arrives_late_never_lies_before_what_is_there(spool):
    tap(spool, "cut", targets=("A",), at=NOON + timedelta(hours=2))
    second = tap(spool, "cut", targets=("B",), at=NOON + timedelta(hours=1)).event
    assert second.received_at == NOON + timedelta(hours=2)


def test_a_phone_clock_ahead_of_ours_is_cut_back_to_the_arrival(spool):
    event = tap(spool, "cut", done_at=NOON + timedelta(days=1)).event
    assert event.done_at == NOON


def test_a_step_costs_at_most_four_statements(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    with CaptureQueriesContext(connection) as seen:
        record_step(spool_id=spool.id, step="cut", person=cutter, key=make_key(), at=NOON)
    statements = [q["sql"] for q in seen if not q["sql"].startswith(("SAVEPOINT", "RELEASE"))]
    assert len(statements) <= 4  # with session and person that is 6 for a request


def test_events_are_numbered_without_gaps(spool):
    make_welded(spool)
    numbers = list(Event.objects.filter(spool=spool).order_by("number").values_list("number", flat=True))
    assert numbers == [1, 2, 3, 4, 5]
