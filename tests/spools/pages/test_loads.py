"""Building a load, and the page of one load: what is missing, its replacement, weights, the link."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from spools.actions.count_back import count_back, report_missing
from spools.flow.roles import Role
from spools.load_links import link_path
from spools.models import Load, Spool
from tests.factories.loads import accept, everybody_of, make_load
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def two(spool):
    return accept(spool), accept(make_spool("215", job=spool.tie_in.job))


def deed(client, load: Load, **fields):
    return client.post(f"/loads/{load.id}/deed/", {"key": make_key() + "-of-a-tap", **fields}, follow=True)


def lost(one: Spool, other: Spool) -> Load:
    load = make_load(one, other)
    call = {"person": everybody_of(one), "at": NOON}
    count_back(load_id=load.id, spool_ids=[one.id], key=make_key(), **call)
    report_missing(load_id=load.id, spool_id=other.id, reason="nobody has it", key=make_key(), **call)
    return load


def test_the_proposal_splits_what_one_truck_does_not_take(two, sign_in):
    shop = two[0].shop
    shop.truck_lb = round(two[0].black_kg / 0.45359237 * 1.5)
    shop.save()
    page = sign_in(Role.DRIVER).get("/loads/new/?kind=coating")
    assert [row["line"].trip for row in page.context["rows"]] == [1, 2]
    assert [row["ticked"] for row in page.context["rows"]] == [True, False]


def test_a_truck_over_its_limit_asks_first_and_keeps_what_was_typed(two, sign_in):
    shop = two[0].shop
    shop.truck_lb = 100
    shop.save()
    driver = sign_in(Role.DRIVER)
    form = {"key": "key-of-load", "kind": "coating", "spool": [two[0].id, two[1].id], "going_to": "Dunmere"}
    asked = driver.post("/loads/new/", form)
    assert asked.status_code == 422
    assert b"over what the truck takes" in asked.content
    assert b'value="Dunmere"' in asked.content
    assert not Load.objects.exists()
    driver.post("/loads/new/", form | {"over": "yes"})
    assert Load.objects.get().lines.count() == 2


def test_what_the_kettle_does_not_take_is_named(two, sign_in):
    shop = two[0].shop
    shop.kettle_length_in = shop.kettle_depth_in = 24
    shop.save()
    page = sign_in(Role.DRIVER).get("/loads/new/?kind=coating")
    assert b"Larger than the kettle" in page.content


def test_a_load_with_a_later_trip_sends_it_from_its_page(two, sign_in):
    driver = sign_in(Role.DRIVER)
    form = {"key": "key-of-load", "kind": "coating", "spool": [s.id for s in two], f"trip-{two[1].id}": "2"}
    driver.post("/loads/new/", form)
    load = Load.objects.get()
    assert b"Trip 2 leaves: 1 spools" in driver.get(f"/loads/{load.id}/").content
    deed(driver, load, do="send", trip=2)
    two[1].refresh_from_db()
    assert two[1].status == "at_coating"


def test_a_trip_that_is_no_number_is_asked_back(two, sign_in):
    form = {"key": "key-of-load", "kind": "coating", "spool": [two[0].id], f"trip-{two[0].id}": "two"}
    answer = sign_in(Role.DRIVER).post("/loads/new/", form)
    assert answer.status_code == 422
    assert "“two” is no trip.".encode() in answer.content


def test_site_loads_are_offered_by_reach(two, sign_in):
    main = two[0].tie_in.main
    main.station_to_mm, main.access_mm = 4080 * 304.8, [0.0, 1300 * 304.8]
    main.save()
    two[1].tie_in.station_mm = 1400 * 304.8
    two[1].tie_in.save()
    load = make_load(*two)
    count_back(load_id=load.id, spool_ids=[s.id for s in two], person=everybody_of(two[0]), key=make_key(), at=NOON)
    driver = sign_in(Role.DRIVER)
    reaches = driver.get("/loads/new/?kind=site").context["proposal"].reaches
    assert [(one.words, one.ready) for one in reaches] == [
        ("East gallery 0+00 to 13+00", 1),
        ("East gallery 13+00 to 40+80", 1),
    ]
    rows = driver.get(f"/loads/new/?kind=site&reach={reaches[1].code}").context["rows"]
    assert [row["line"].spool.label for row in rows] == ["215"]


def test_a_missing_spool_is_replaced_found_and_used_after_all(two, sign_in):
    load = lost(*two)
    foreman = sign_in(Role.FOREMAN)
    page = deed(foreman, load, do="replace", spool=two[1].id, rush="yes")
    new = Spool.objects.get(replaces=two[1])
    assert b"215 B is to be cut; its clock began with the first one." in page.content
    assert new.rush
    page = deed(foreman, load, do="turned_up", spool=two[1].id)
    assert b"It is a spare" in page.content
    page = deed(foreman, load, do="use_old", spool=two[1].id)
    assert b"215 counts again; its replacement is scrapped." in page.content
    assert Spool.objects.get(tie_in=new.tie_in, live=True).label == "215"


def test_the_driver_may_not_start_a_replacement(two, sign_in):
    load = lost(*two)
    page = deed(sign_in(Role.DRIVER), load, do="replace", spool=two[1].id)
    assert b"is for the foreman" in page.content
    assert not Spool.objects.filter(replaces=two[1]).exists()


def test_the_claim_sheet_names_what_is_missing(two, sign_in):
    load = lost(*two)
    assert sign_in(Role.DRIVER).get(f"/loads/{load.id}/claim.pdf").content.startswith(b"%PDF")


def test_what_is_not_back_after_its_day_is_said_on_both_pages(two, sign_in):
    load = make_load(*two)
    Load.objects.update(due_back_on="2026-11-01")
    driver = sign_in(Role.DRIVER)
    assert b"Not back: 2" in driver.get(f"/loads/{load.id}/").content
    assert b"Load 1: 2 not back" in driver.get("/loads/").content
    assert (
        b"2 spools missing at the galvanizer, or not back after the day" in sign_in(Role.FOREMAN).get("/floor/").content
    )


def test_what_is_replaced_is_no_longer_to_sort_out(two, sign_in):
    load = lost(*two)
    foreman = sign_in(Role.FOREMAN)
    assert b"1 spool missing at the galvanizer" in foreman.get("/floor/").content
    deed(foreman, load, do="replace", spool=two[1].id)
    assert b"missing at the galvanizer" not in foreman.get("/floor/").content


def test_weights_are_compared_and_the_limit_is_said(two, sign_in):
    load = make_load(*two)
    driver = sign_in(Role.DRIVER)
    black_lb = sum(s.black_kg for s in two) / 0.45359237
    deed(driver, load, do="weigh", way="out", net=f"{black_lb:.0f}")
    driver.post(f"/loads/{load.id}/back/", {"key": "key-of-back", "spool": [s.id for s in two]})
    page = deed(driver, load, do="weigh", way="back", net=f"{black_lb * 1.03:,.0f} lb").content.decode()
    assert "The weight agrees with the count" in page
    assert "for sure (90 % of the time)" in page
    assert "would show" in page


def test_a_weight_that_is_no_number_is_asked_back(two, sign_in):
    load = make_load(*two)
    page = deed(sign_in(Role.DRIVER), load, do="weigh", way="out", net="heavy").content.decode()
    assert "“heavy” is no weight." in page


def test_the_link_is_made_anew_and_closed(two, sign_in, client):
    load = make_load(*two, at=timezone.now())
    driver, old = sign_in(Role.DRIVER), link_path(load)
    deed(driver, load, do="new_link")
    load.refresh_from_db()
    assert (client.get(old).status_code, client.get(link_path(load)).status_code) == (410, 200)
    deed(driver, load, do="end_link")
    assert client.get(link_path(load)).status_code == 410
    deed(driver, load, do="renew_link")
    assert client.get(link_path(load)).status_code == 200


@pytest.mark.parametrize("address", ["/loads/{load}/", "/loads/new/?kind=coating"])
def test_pages_of_loads_cost_the_same_however_many_spools(spool, sign_in, address):
    job = spool.tie_in.job
    on_load = [accept(make_spool(f"3{n}", job=job)) for n in range(2)]
    accept(make_spool("400", job=job))
    driver = sign_in(Role.DRIVER)

    def queries(load: Load) -> int:
        with CaptureQueriesContext(connection) as seen:
            assert driver.get(address.format(load=load.id)).status_code == 200
        return len(seen)

    few = queries(make_load(*on_load))
    more = [accept(make_spool(f"5{n}", job=job)) for n in range(5)]
    [accept(make_spool(f"6{n}", job=job)) for n in range(3)]
    assert queries(make_load(*more, key="the-longer-load")) == few
    assert few <= 14
