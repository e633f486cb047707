"""Every way to make a turn is shown with its reasons; the foreman picks one, the others only look."""

import json

import pytest

from spools.flow.roles import Role
from spools.models import Spool, TieIn
from spools.pages.asking import fresh_key
from tests.factories.people import make_person
from tests.factories.spools import make_spool


@pytest.fixture
def spool(db):
    return make_spool("214")


@pytest.fixture
def page(spool, client):
    client.force_login(make_person(spool.shop, Role.FOREMAN), backend="django.contrib.auth.backends.ModelBackend")
    return f"/tie-ins/{spool.tie_in_id}/make-up/"


FILLED = {"end_a": "beveled", "end_b": "grooved", "seat": "set-on", "reason": "no elbow in stock"}


def test_what_can_be_built_is_ranked_with_reasons_and_what_can_not_says_why(client, page):
    ways = client.get(page).context["ways"]
    assert ways.can[0].now
    assert "2 welds" in ways.can[0].reasons[0]
    assert any(way.kind == "miter" for way in ways.can)
    assert all(way.reasons for way in ways.cannot)
    assert {way.kind for way in ways.cannot} == {"whole_elbow"}


def test_a_miter_is_chosen_in_one_press(client, page, spool):
    turn = next(way.code for way in client.get(page).context["offered"] if way.kind == "miter")
    answer = client.post(page, FILLED | {"turn": turn, "key": fresh_key()})
    made = Spool.objects.get(live=True)
    assert (answer.status_code, answer.url, made.bend_kind) == (302, f"/spools/{made.id}/", "miter")


def test_bent_pipe_takes_its_radius_as_typed(client, page, spool):
    client.post(page, FILLED | {"turn": "bent pipe", "radius": '18"', "key": fresh_key()})
    assert TieIn.objects.get().bend_options == {"bend_radius_mm": pytest.approx(457.2)}
    assert Spool.objects.get(live=True).bend_kind == "bent_pipe"


@pytest.mark.parametrize(("side", "offset_mm"), [("left", 50.8), ("right", -50.8)])
@pytest.mark.parametrize("seat", ["set-on", "set-in"])
def test_a_saddle_is_offset_to_the_side_that_was_chosen_and_built_set_on_or_set_in(client, db, side, offset_mm, seat):
    saddle = {"end_a": "saddle", "measured_to_a": "saddle_wall", "end_options": {"a": {"included_deg": 75.0}}}
    spool = make_spool("214", **saddle)
    client.force_login(make_person(spool.shop, Role.FOREMAN), backend="django.contrib.auth.backends.ModelBackend")
    page = f"/tie-ins/{spool.tie_in_id}/make-up/"
    typed = {"turn": "as it is", "end_a": "saddle", "included": "60", "offset": '2"', "side": side, "seat": seat}
    assert client.post(page, FILLED | typed | {"key": fresh_key()}).status_code == 302
    said = TieIn.objects.get().end_options["a"]
    assert said == {"included_deg": 60.0, "offset_mm": pytest.approx(offset_mm), "seat": seat}
    form = client.get(page).context["form"]
    assert (form["offset"].value(), form["side"].value()) == ('2"', side)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"turn": "bent pipe", "radius": "3-4"}, "radius"),
        ({"turn": "bent pipe", "radius": ""}, "radius"),
        ({"turn": json.dumps(["miter", {"welds": 99}])}, "turn"),
        ({"turn": "as it is", "trim_a": "a lot"}, "trim_a"),
        ({"turn": "as it is", "end_a": "saddle"}, "included"),
        ({"turn": "as it is", "end_a": "saddle", "included": "square"}, "included"),
        ({"turn": "as it is", "reason": ""}, "reason"),
    ],
)
def test_what_can_not_be_read_is_said_beside_its_field_and_what_was_typed_stays(client, page, spool, typed, field):
    answer = client.post(page, FILLED | typed | {"key": fresh_key()})
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    for name in ("radius", "trim_a", "included"):
        assert answer.context["form"][name].value() == typed.get(name)
    assert Spool.objects.get() == spool


def test_others_look_only(client, page, spool):
    fitter = make_person(spool.shop, Role.FITTER)
    client.force_login(fitter, backend="django.contrib.auth.backends.ModelBackend")
    assert 'method="post"' not in client.get(page).content.decode().split("<main")[1]
    assert client.post(page, FILLED | {"turn": "as it is", "key": fresh_key()}).status_code == 403
