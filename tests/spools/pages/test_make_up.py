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
    ("end", "of_class", "own", "said"),
    [
        ("flanged_weld_neck", "300", '3-1/2"', {"flange_class": "300", "flange_length_mm": 88.9}),
        ("flanged_slip_on", "150", '1/2"', {"flange_setback_mm": 12.7}),
        ("grooved", "300", '1/4"', {"coupling_gap_mm": 6.35}),
        ("threaded", "150", '5-1/8"', {"fitting_face_mm": 130.175}),
        ("beveled", "300", '1/4"', {}),
    ],
)
def test_what_is_bought_for_an_end_has_its_own_measure(client, page, spool, end, of_class, own, said):
    typed = {"turn": "as it is", "end_b": end, "class_b": of_class, "own_b": own}
    assert client.post(page, FILLED | typed | {"key": fresh_key()}).status_code == 302
    kept = TieIn.objects.get().end_options.get("b", {})
    assert kept.pop("flange_class", "150") == said.pop("flange_class", "150")
    assert kept == pytest.approx(said)
    form = client.get(page).context["form"]
    assert form["own_b"].value() == (own if said else "")


def test_a_class_that_no_table_has_is_built_with_the_length_of_the_flange_that_was_bought(client, page, spool):
    weld_neck = {"turn": "as it is", "end_b": "flanged_weld_neck", "class_b": "300", "key": fresh_key()}
    client.post(page, FILLED | weld_neck)
    assert not Spool.objects.filter(live=True, solution__request__end_b__prep="flanged_weld_neck").exists()
    client.post(page, FILLED | weld_neck | {"own_b": '3-7/8"', "key": fresh_key()})
    asked = Spool.objects.get(live=True).solution["request"]["end_b"]
    assert (asked["prep"], asked["flange_class"], asked["flange_length_mm"]) == (
        "flanged_weld_neck",
        "300",
        pytest.approx(98.425),
    )


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
