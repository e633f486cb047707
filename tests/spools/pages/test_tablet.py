"""Signing on at the shared tablet: a name and four digits, once a shift; whose name is pressed, theirs is the tap."""

from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client

from spools.actions.record_step import record_step
from spools.flow.roles import Role
from spools.models import Bench
from spools.shop_calendar import calendar_of
from spools.sign_on import MOST, lasts_until
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key

BACKEND = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture
def bench(spool):
    person = make_person(spool.shop, *Role)
    for step in ("cut", "grooved", "beveled"):
        record_step(spool_id=spool.id, step=step, person=person, key=make_key(), at=NOON)
    return Bench.objects.create(shop=spool.shop, name="1", operations=["welded"])


@pytest.fixture
def tablet(spool):
    client = Client()
    client.force_login(make_person(spool.shop, Role.TABLET, name="Tablet"), backend=BACKEND)
    return client


def somebody(shop, name, digits="4071", *roles):
    person = make_person(shop, *(roles or (Role.FITTER,)), name=name)
    person.pin = make_password(digits)
    person.save()
    return person


def sign_on(tablet, person, digits="4071"):
    return tablet.post("/tablet/on/", {"person": person.id, "digits": digits, "back": "/benches/"})


def tap(tablet, bench, spool, **form):
    form = {"key": make_key() + "-tapped", "spool": spool.id, "step": "welded"} | form
    return tablet.post(f"/benches/{bench.id}/tap/", form, headers={"Accept": "application/json"})


def test_nobody_signed_on_records_nothing(tablet, bench, spool):
    assert tap(tablet, bench, spool).status_code == 403
    assert not spool.events.filter(code="welded").exists()


def test_four_digits_sign_on_and_the_tap_is_theirs(tablet, bench, spool):
    ruiz = somebody(spool.shop, "Ruiz")
    assert sign_on(tablet, ruiz).status_code == 302
    assert tap(tablet, bench, spool).json()["state"] == "kept"
    assert spool.events.get(code="welded").person == ruiz


def test_wrong_digits_are_answered_in_words_and_sign_nobody_on(tablet, bench, spool):
    answer = sign_on(tablet, somebody(spool.shop, "Ruiz"), "1111")
    assert answer.status_code == 422
    assert b"not the four digits of that name" in answer.content
    assert tap(tablet, bench, spool).status_code == 403


def test_the_name_that_was_pressed_counts_and_not_the_one_pressed_since(tablet, bench, spool):
    ruiz, banner = somebody(spool.shop, "Ruiz"), somebody(spool.shop, "Banner", "5182")
    sign_on(tablet, ruiz)
    sign_on(tablet, banner, "5182")
    tap(tablet, bench, spool, who=ruiz.id)
    assert spool.events.get(code="welded").person == ruiz


def test_somebody_who_never_signed_on_here_cannot_be_named(tablet, bench, spool):
    sign_on(tablet, somebody(spool.shop, "Ruiz"))
    answer = tap(tablet, bench, spool, who=somebody(spool.shop, "Banner", "5182").id)
    assert (answer.status_code, answer.json()["code"]) == (403, "sign_on")


def test_what_was_tapped_before_signing_off_still_counts_and_nothing_after(tablet, bench, spool, it_is):
    on, tapped_at, off, later = (NOON + timedelta(minutes=minutes) for minutes in (1, 2, 3, 4))
    ruiz = somebody(spool.shop, "Ruiz")
    it_is(on)
    sign_on(tablet, ruiz)
    it_is(off)
    tablet.post("/tablet/off/", {"person": ruiz.id})
    it_is(later)
    too_late = {"done_at": later.isoformat(), "sent_at": later.isoformat()}
    assert tap(tablet, bench, spool, who=ruiz.id, **too_late).json()["code"] == "sign_on"
    times = {"done_at": tapped_at.isoformat(), "sent_at": later.isoformat()}
    assert tap(tablet, bench, spool, who=ruiz.id, **times).json()["state"] == "kept"


def test_a_fifth_name_takes_the_place_of_the_first(tablet, bench, spool):
    people = [somebody(spool.shop, f"Fitter{n}") for n in range(MOST + 1)]
    for person in people:
        sign_on(tablet, person)
    names = tablet.get(f"/benches/{bench.id}/").context["names"]
    assert [one.username for one in names] == [f"fitter{n}" for n in range(1, MOST + 1)]


def test_digits_of_another_shop_do_not_open_this_one(tablet, bench, spool):
    stranger = somebody(make_shop("Other"), "Stranger")
    assert sign_on(tablet, stranger).status_code == 404


def test_who_may_not_weld_is_told_whose_it_is(tablet, bench, spool):
    sign_on(tablet, somebody(spool.shop, "Duvall", "7777", Role.CUTTER), "7777")
    answer = tap(tablet, bench, spool)
    assert (answer.status_code, answer.json()["code"]) == (403, "not_your_role")


@pytest.mark.django_db
def test_a_sign_on_lasts_until_the_next_shift_begins():
    calendar = calendar_of(make_shop())  # 06:00 to 14:30 in Chicago, Monday to Friday
    at = datetime(2026, 11, 24, 12, 0, tzinfo=UTC)  # Tuesday 06:00 there
    assert lasts_until(at, calendar) == at + timedelta(hours=16)
    early = datetime(2026, 11, 24, 11, 0, tzinfo=UTC)  # 05:00, before the shift: it holds for this shift
    assert lasts_until(early, calendar) == early + timedelta(hours=16)
    evening = datetime(2026, 11, 24, 23, 0, tzinfo=UTC)  # 17:00: until the next morning at 06:00
    assert lasts_until(evening, calendar) == datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
