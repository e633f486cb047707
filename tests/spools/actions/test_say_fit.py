"""A spool that hangs: said to fit or not, once, as it was seen; off its load, held, built again."""

from datetime import timedelta

import pytest
from rest_framework.test import APIClient

from spools.actions.deliver import deliver
from spools.actions.report_misfit import HOW
from spools.actions.say_fit import say_fit
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Event, LoadLine, Photo, Spool
from spools.queries.field_book import book_of
from spools.queries.hanging import MOST, hanging_of
from tests.factories.loads import accept, make_site_load
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON, make_spool, take

pytestmark = pytest.mark.django_db
KEY = "key-of-a-phone"
LATER = NOON + timedelta(hours=6)


@pytest.fixture
def spool():
    made = accept(make_spool("214"), at=NOON)
    made.load = make_site_load(made)
    return made


@pytest.fixture
def hand(spool):
    return make_person(spool.shop, Role.FIELD)


@pytest.fixture
def phone(hand):
    client = APIClient()
    client.force_authenticate(hand)
    return client


def say(spool, person, how="long", **news):
    return say_fit(spool_id=spool.id, person=person, how=how, **({"key": KEY, "at": LATER} | news))


def body_of(hung, **news):
    return {"key": KEY, "spool": hung.id, "how": "long", "seen_at": NOON.isoformat()} | news


def test_what_fits_is_written_once_as_it_was_seen(spool, hand):
    seen_at = NOON + timedelta(hours=1)
    first, again = (say(spool, hand, "fits", seen_at=seen_at) for _ in range(2))
    assert (first.repeated, again.repeated) == (False, True)
    assert Event.objects.get(code="fits").done_at == seen_at


def test_what_does_not_fit_is_held_for_the_field_and_off_its_load(spool, hand):
    say(spool, hand, note="3/8 in at the drain")
    spool.refresh_from_db()
    (hold,) = spool.the_standing.holds
    assert (hold.reason, hold.owner) == ("does not fit: too long", "field")
    line = LoadLine.objects.get(spool=spool, load=spool.load)
    line.load.refresh_from_db()
    assert (line.settled, line.load.closed_at) == ("taken off", LATER)


def test_said_again_by_the_same_phone_it_is_one_event_and_one_hold(spool, hand):
    first, again = say(spool, hand), say(spool, hand)
    spool.refresh_from_db()
    assert (first.event, again.repeated, len(spool.the_standing.holds)) == (again.event, True, 1)


@pytest.mark.parametrize(("first", "then"), [("long", "fits"), ("fits", "short"), ("long", "long")])
def test_what_somebody_else_said_is_told_first_and_a_person_decides(spool, hand, first, then):
    say(spool, make_person(spool.shop, Role.FIELD, name="Okafor"), first)
    with pytest.raises(ShopError) as refusal:
        say(spool, hand, then, key="another-phone")
    assert refusal.value.code == "fit_said"
    assert "said Okafor" in refusal.value.words
    assert not say(spool, hand, then, key="another-phone", anyway=True).repeated


def test_a_new_reading_makes_its_next_build(spool, hand):
    say(spool, hand)
    take(spool.tie_in, CLOSES, again=True, at=LATER)
    assert Spool.objects.get(tie_in=spool.tie_in, live=True).replaces_id == spool.id


def test_a_build_that_no_longer_counts_is_not_said_anything_of(spool, hand):
    say(spool, hand)
    take(spool.tie_in, CLOSES, again=True, at=LATER)
    with pytest.raises(ShopError) as refusal:
        say(spool, hand, "fits", key="another-phone", anyway=True)
    assert refusal.value.code == "ended"


@pytest.mark.parametrize("role", [Role.CUTTER, Role.FITTER])
def test_only_who_hangs_or_brings_it_says_so(spool, role):
    for how in ("fits", "long"):
        with pytest.raises(ShopError) as refusal:
            say(spool, make_person(spool.shop, role), how)
        assert refusal.value.code == "not_your_role"


def test_another_shop_s_spool_is_not_there(spool):
    stranger = make_person(make_shop("Other"), Role.FIELD)
    for how in ("fits", "long"):
        with pytest.raises(ShopError) as refusal:
            say(spool, stranger, how)
        assert refusal.value.code == "not_found"
    assert hanging_of(stranger) == []


def test_the_phone_knows_what_is_on_the_way_or_delivered_until_it_fits(spool, hand):
    make_spool("215", job=spool.tie_in.job)  # in the shop still
    (on_the_way,) = book_of(hand, at=NOON)["hang"]
    assert (on_the_way["label"], on_the_way["stands"]) == ("214", f"on the way, load {spool.load.number}")
    driver = make_person(spool.shop, Role.DRIVER)
    deliver(load_id=spool.load.id, spool_ids=[spool.id], person=driver, key="delivered-it", at=NOON)
    (delivered,) = hanging_of(hand)
    assert delivered.stands.startswith("delivered ")
    say(spool, hand, "fits")
    assert hanging_of(hand) == []


def test_what_does_not_fit_stays_on_the_phone_with_who_said_so(spool, hand):
    driver = make_person(spool.shop, Role.DRIVER)
    deliver(load_id=spool.load.id, spool_ids=[spool.id], person=driver, key="delivered-it", at=NOON)
    say(spool, hand, "clocked", note="a quarter turn")
    assert [one.said for one in hanging_of(hand)] == [f"{HOW['clocked']}; a quarter turn, {hand.short_name}"]


def test_the_spools_of_a_book_cost_three_queries_however_many(spool, hand, django_assert_num_queries):
    with django_assert_num_queries(3):
        hanging_of(hand)
    more = [accept(make_spool(str(mark), job=spool.tie_in.job), at=NOON) for mark in range(300, 304)]
    make_site_load(*more)
    with django_assert_num_queries(3):
        assert len(hanging_of(hand)) == 5 <= MOST


def test_over_the_api_it_answers_201_and_its_repeat_200(spool, phone):
    answers = [phone.post("/api/v1/fits/new/", body_of(spool), format="json").status_code for _ in range(2)]
    assert answers == [201, 200]


@pytest.mark.parametrize("news", [{"how": "tired"}, {"spool": 0}, {"key": "short"}, {"note": "n" * 201}])
def test_what_is_no_answer_is_refused(spool, phone, news):
    assert phone.post("/api/v1/fits/new/", body_of(spool, **news), format="json").status_code == 400
    assert not Event.objects.filter(code="misfit").exists()


def test_what_another_one_hung_is_asked_about_unless_the_shop_has_it(spool, phone):
    refused = phone.post("/api/v1/fits/new/", body_of(spool, seen_by="okafor"), format="json")
    assert (refused.status_code, refused.json()["code"]) == (409, "other_person")
    assert phone.post("/api/v1/fits/new/", body_of(spool), format="json").status_code == 201
    assert phone.post("/api/v1/fits/new/", body_of(spool, seen_by="okafor"), format="json").status_code == 200


def test_its_photo_is_kept_once_and_stands_in_the_story_of_the_spool(spool, phone, hand, client, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    phone.post("/api/v1/fits/new/", body_of(spool), format="json")
    content = b"\xff\xd8\xff" + bytes(200)

    def send() -> int:
        from django.core.files.uploadedfile import SimpleUploadedFile  # a fresh file for each sending

        form = {"key": "key-of-a-photo", "of": "fit", "reading_key": KEY, "size": len(content)}
        return phone.post("/api/v1/photos/new/", form | {"photo": SimpleUploadedFile("a.jpg", content)}).status_code

    assert [send(), send()] == [201, 200]
    (photo,) = Photo.objects.for_person(hand)
    assert photo.event.code == "misfit"
    assert photo.path.read_bytes() == content
    client.force_login(hand)
    assert f"/photos/{photo.id}/" in client.get(f"/spools/{spool.id}/").content.decode()
    client.force_login(make_person(make_shop("Other"), Role.FIELD))
    assert client.get(f"/photos/{photo.id}/").status_code == 404
