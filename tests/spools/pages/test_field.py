"""A reading is typed, checked at once, and nothing typed is lost on the way."""

import pytest

from spools.flow.roles import Role
from spools.models import Reading, Spool
from tests.factories.jobs import make_tie_in

FORM = {
    "leg_a": "36 1/8",
    "leg_b": "22 9/16",
    "included": "127.5",
    "closing": "53",
    "measured_to_a": "pipe_end",
    "measured_to_b": "pipe_end",
    "key": "key-of-the-form",
}


@pytest.fixture
def send(spool, sign_in):
    tie_in = make_tie_in(spool.tie_in.job, "215")
    client = sign_in(Role.FIELD)

    def post(**changed):
        form = FORM | {"set_points": spool.reading.set_points_id} | changed
        answer = client.post(f"/field/{tie_in.id}/", form)
        answer.tie_in = tie_in
        return answer

    return post


def test_a_reading_that_closes_becomes_a_spool_at_once(send):
    answer = send()
    spool = Spool.objects.get(tie_in__mark="215")
    assert answer.status_code == 302
    assert answer["Location"] == f"/spools/{spool.id}/"


def test_the_same_form_sent_twice_is_one_reading(send):
    send()
    send()
    assert Reading.objects.filter(tie_in__mark="215").count() == 1


@pytest.mark.parametrize("typed", ["3-4", "40,3125", "3'-14\"", "4 17/16", "nan", "", "x" * 41])
def test_what_has_no_sure_value_comes_back_as_typed_with_the_way_to_write_it(send, typed):
    answer = send(leg_a=typed)
    assert answer.status_code == 422
    assert not Reading.objects.filter(tie_in__mark="215").exists()
    form = answer.context["form"]
    assert form["leg_a"].value() == typed
    assert form.errors["leg_a"]
    assert form["leg_b"].value() == "22 9/16"


def test_a_supplement_read_is_named_and_nothing_is_kept_yet(send):
    answer = send(included="52.5")
    assert answer.status_code == 422
    words = " ".join(finding.text for finding in answer.context["findings"])
    assert "supplement" in words or "180" in words
    assert b"Keep it for the foreman" in answer.content
    assert not Reading.objects.filter(tie_in__mark="215").exists()


def test_kept_for_the_foreman_it_waits_without_a_spool(send):
    answer = send(included="52.5", keep_anyway="yes")
    reading = Reading.objects.get(tie_in__mark="215")
    assert answer["Location"] == f"/readings/{reading.id}/"
    assert not reading.closes
    assert not Spool.objects.filter(tie_in__mark="215").exists()


@pytest.mark.parametrize("included", ["59", "181", "0", "-10"])
def test_an_included_angle_that_no_jig_reads_is_refused_in_words(send, included):
    answer = send(included=included)
    assert answer.status_code == 422
    assert answer.context["form"].errors.get("included") or answer.context["findings"]


def test_legs_too_short_for_the_make_up_say_what_would_do(send):
    answer = send(leg_a="7", leg_b="7", included="100", closing="")
    assert answer.status_code == 422
    assert any(finding.level == "error" for finding in answer.context["findings"])
    assert not Spool.objects.filter(tie_in__mark="215").exists()


def test_a_second_reading_asks_whether_the_same_place_was_measured_again(send):
    send()
    answer = send(key="another-key", leg_a="36 1/16")
    assert answer.status_code == 409
    assert b"Measured again" in answer.content
    assert send(key="another-key", leg_a="36 1/16", again="yes").status_code == 302
    assert Spool.objects.get(tie_in__mark="215", live=True).build == 2


def test_the_foreman_releases_what_waits_by_name_and_with_a_reason(send, sign_in):
    send(closing="", keep_anyway="yes")
    reading = Reading.objects.get(tie_in__mark="215")
    foreman = sign_in(Role.FOREMAN)
    without = foreman.post(f"/readings/{reading.id}/release/", {"key": "key-of-release", "reason": ""})
    assert without.status_code == 422
    foreman.post(f"/readings/{reading.id}/release/", {"key": "key-of-release", "reason": "measured twice by hand"})
    spool = Spool.objects.get(tie_in__mark="215")
    assert spool.events.get(number=1).reason == "measured twice by hand"


def test_the_field_hand_does_not_release(send, sign_in):
    send(closing="", keep_anyway="yes")
    reading = Reading.objects.get(tie_in__mark="215")
    answer = sign_in(Role.FIELD).post(
        f"/readings/{reading.id}/release/", {"key": "key-of-release", "reason": "why not"}
    )
    assert answer.status_code == 403
    assert not Spool.objects.filter(tie_in__mark="215").exists()


def test_a_jig_out_of_check_is_locked_and_takes_no_reading(spool, sign_in, send):
    client = sign_in(Role.FIELD)
    check = {
        "jig": spool.reading.set_points.jig_id,
        "long_master": "48",
        "long_read": "48 1/16",
        "long_included_off": "0.8",
        "short_master": "16",
        "short_read": "16",
        "short_included_off": "0.1",
        "key": "key-of-check",
    }
    client.post("/field/jig-check/", check)
    assert send().status_code == 422
    assert b"locked" in client.get("/field/").content
