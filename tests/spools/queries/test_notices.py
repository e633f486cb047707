"""Whom an exception concerns: each person's list has what is theirs to know, why, and nothing they did themselves."""

from datetime import timedelta

import pytest

from spools.actions.ask_foreman import ask_foreman
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_weld import reject_weld
from spools.actions.report_misfit import report_misfit
from spools.actions.rush_spool import rush_spool
from spools.actions.see_notices import see_notices
from spools.actions.undo_event import undo_event
from spools.actions.wrong_cut import wrong_cut
from spools.flow.roles import Role
from spools.queries.notices import LATELY, notices_for, seen_by
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def crew(spool):
    roles = {"cutter": Role.CUTTER, "fitter": Role.FITTER, "other": Role.FITTER, "foreman": Role.FOREMAN}
    roles |= {"manager": Role.MANAGER, "driver": Role.DRIVER}
    return {name: make_person(spool.shop, role, name=name.capitalize()) for name, role in roles.items()}


def call(spool, person):
    return {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON}


def told(crew, *names):
    """What each of the crew is told, as why, for those who are told anything."""
    found = {name: [one.why for one in notices_for(person, at=NOON)] for name, person in crew.items()}
    return {name: why for name, why in found.items() if why}


def welded(spool, crew):
    for step, who in (("cut", "cutter"), ("grooved", "cutter"), ("beveled", "cutter"), ("welded", "fitter")):
        record_step(step=step, **call(spool, crew[who]))


def test_a_rejected_weld_goes_to_the_welder_the_cutter_and_the_foreman(spool, crew):
    welded(spool, crew)
    reject_weld(reason="porosity at weld 1", **call(spool, crew["other"]))
    assert told(crew) == {"fitter": ["you welded it"], "cutter": ["you cut it"], "foreman": ["you run the floor"]}


def test_a_wrong_cut_goes_to_who_cut_it_and_to_the_foreman(spool, crew):
    record_step(step="cut", **call(spool, crew["cutter"]))
    wrong_cut(piece="A", reason="1 in short", **call(spool, make_person(spool.shop, Role.CUTTER)))
    assert told(crew) == {"cutter": ["you cut it"], "foreman": ["you run the floor"]}


def test_a_hold_goes_to_its_owner_by_role_or_by_name_as_their_move(spool, crew):
    hold_spool(reason="no elbow", owner="fitter", **call(spool, crew["foreman"]))
    hold_spool(reason="ask him", owner="Driver", **call(spool, crew["foreman"]))
    found = told(crew)
    assert "it is your move" in found["fitter"]
    assert "it is your move" in found["driver"]
    assert found["cutter"] == ["it is still to cut", "it is still to cut"]


def test_a_rush_goes_to_the_saw_and_to_whoever_answers_for_the_date(spool, crew):
    rush_spool(reason="apron pour", **call(spool, crew["foreman"]))
    assert told(crew) == {"cutter": ["it is still to cut"], "manager": ["you answer for the date"]}


def test_a_misfit_goes_to_who_measured_it(spool, crew):
    report_misfit(how="long", reason="", **call(spool, crew["driver"]))
    fieldhand = spool.reading.taken_by
    assert {one.why for one in notices_for(fieldhand, at=NOON)} == {"you measured it", "it is your move"}


def test_an_undo_goes_to_whose_tap_it_was(spool, crew):
    event = record_step(step="cut", **call(spool, crew["cutter"])).event
    undo_event(number=event.number, reason="wrong mark", **call(spool, crew["foreman"]))
    assert told(crew) == {"cutter": ["your own tap"]}


def test_nobody_is_told_what_they_did_themselves(spool, crew):
    hold_spool(reason="no elbow", owner="foreman", **call(spool, crew["foreman"]))
    assert "foreman" not in told(crew)


def test_letting_go_is_told_to_who_worked_on_it(spool, crew):
    welded(spool, crew)
    hold_spool(reason="look at weld 1", owner="foreman", **call(spool, crew["foreman"]))
    let_go(**call(spool, crew["foreman"]))
    assert told(crew)["fitter"] == ["you worked on it", "you worked on it"]


def test_another_shop_is_told_nothing(spool, crew):
    hold_spool(reason="no elbow", owner="foreman", **call(spool, crew["manager"]))
    assert notices_for(make_person(make_shop("Other"), *Role), at=NOON) == []


def test_after_two_weeks_it_leaves_the_list(spool, crew):
    rush_spool(reason="apron pour", **call(spool, crew["foreman"]))
    assert notices_for(crew["manager"], at=NOON + LATELY)
    assert not notices_for(crew["manager"], at=NOON + LATELY + timedelta(seconds=1))


def test_what_was_seen_is_not_new_and_the_mark_never_goes_back(spool, crew):
    rush_spool(reason="apron pour", **call(spool, crew["foreman"]))
    (one,) = notices_for(crew["manager"], at=NOON)
    assert one.is_new
    see_notices(person=crew["manager"], up_to=one.event.id)
    see_notices(person=crew["manager"], up_to=1)
    assert seen_by(crew["manager"]) == one.event.id
    assert not notices_for(crew["manager"], at=NOON)[0].is_new


def test_the_page_shows_it_and_marks_it_seen(spool, crew, client, it_is):
    it_is(NOON)
    rush_spool(reason="apron pour Friday", **call(spool, crew["foreman"]))
    client.force_login(crew["manager"], backend="django.contrib.auth.backends.ModelBackend")
    page = client.get("/notices/")
    assert b"apron pour Friday" in page.content
    assert page.context["new"] == 1
    client.post("/notices/seen/", {"up_to": page.context["newest"]})
    assert client.get("/notices/").context["new"] == 0


def test_the_list_costs_three_queries_however_long(spool, crew, django_assert_max_num_queries):
    welded(spool, crew)
    for _ in range(12):
        hold_spool(reason="no elbow", owner="fitter", **call(spool, crew["foreman"]))
    with django_assert_max_num_queries(3):
        assert len(notices_for(crew["fitter"], at=NOON)) == 12


def test_a_tap_alone_concerns_nobody(spool, crew):
    record_step(step="welded", tap=Tap(already=True), **call(spool, make_person(spool.shop, *Role)))
    assert told(crew) == {}


@pytest.mark.parametrize("who", ["fitter", "cutter", "manager", "driver"])
def test_whoever_may_not_asks_the_foreman_and_he_is_told(spool, crew, who):
    ask_foreman(wants="scrapped", reason="bent by the fork truck", **call(spool, crew[who]))
    (one,) = notices_for(crew["foreman"], at=NOON)
    assert one.words == f"Asked the foreman to scrap it by {who.capitalize()}: bent by the fork truck"
    assert one.why == "you are asked"
    spool.refresh_from_db()
    assert spool.live
