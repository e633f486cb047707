"""The set-up pages: people, benches, the calendar, jigs, jobs and mains, pipe specs, the shop itself."""

from datetime import timedelta

import pytest
from django.utils import timezone

from spools.flow.roles import Role
from spools.models import Bench, Jig, Person, SetPoints, Shop
from spools.models.shopcalendar import ClosedDay, WorkedDay
from tests.factories.people import make_person

pytestmark = pytest.mark.django_db
PAGES = ("", "shop/", "people/", "people/new/", "benches/", "benches/new/", "calendar/", "jigs/", "jigs/new/", "jobs/")


@pytest.fixture
def foreman(sign_in):
    return sign_in(Role.FOREMAN)


@pytest.fixture
def manager(sign_in):
    return sign_in(Role.MANAGER)


@pytest.mark.parametrize("page", [*PAGES, "specs/"])
def test_each_page_opens_for_the_office_and_for_nobody_else(page, foreman, sign_in):
    assert foreman.get(f"/setup/{page}").status_code == 200
    assert sign_in(Role.FITTER).get(f"/setup/{page}").status_code == 403


# People


SOMEBODY = {"username": "ito", "last_name": "Ito", "roles": ["cutter"], "digits": "4071", "is_active": "on"}


def test_somebody_new_gets_roles_and_four_digits(foreman, spool):
    foreman.post("/setup/people/new/", SOMEBODY)
    person = Person.objects.get(username="ito")
    assert (person.role_set, person.shop, person.has_usable_password()) == ({Role.CUTTER}, spool.shop, False)
    assert person.pin


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"username": ""}, "Write the name they sign in with."),
        ({"last_name": " "}, "This field is required."),
        ({"roles": []}, "Tick what they do."),
        ({"digits": "1111"}, "Not all alike"),
        ({"digits": "40a1"}, "Four digits, such as 4071."),
        ({"roles": ["tablet", "cutter"]}, "A shared tablet is no person"),
        ({"roles": ["manager"]}, "Only a project manager"),
    ],
)
def test_what_can_not_be_kept_of_somebody_is_said_beside_it_and_nothing_typed_is_lost(foreman, spool, change, words):
    make_person(spool.shop, Role.MANAGER)
    page = foreman.post("/setup/people/new/", SOMEBODY | {"email": "ito@shop.example"} | change)
    assert page.status_code in {403, 422}
    assert words in page.content.decode()
    assert "ito@shop.example" in page.content.decode()
    assert not Person.objects.filter(username="ito").exists()


def test_somebody_who_left_signs_on_no_more_and_keeps_what_they_did(foreman, spool):
    hand = spool.reading.taken_by
    form = {"last_name": hand.last_name, "roles": ["field"]}
    foreman.post(f"/setup/people/{hand.id}/", form)
    hand.refresh_from_db()
    assert not hand.is_active
    assert spool.events.get(code="measured").person == hand


def test_nobody_of_another_shop_is_shown_or_changed(foreman):
    other = make_person(Shop.objects.create(name="Elsewhere"), Role.CUTTER)
    assert foreman.get(f"/setup/people/{other.id}/").status_code == 404


# Benches


def test_a_bench_is_set_up_with_what_it_does_and_the_sizes_it_takes(foreman):
    form = {"name": "3", "operations": ["welded"], "sizes": ["6", "8"], "set_up_nps": "6", "is_active": "on"}
    foreman.post("/setup/benches/new/", form)
    bench = Bench.objects.get()
    assert (bench.operations, bench.sizes, bench.set_up_nps) == (["welded"], ["6", "8"], "6")
    assert b"welded" in foreman.get("/setup/benches/").content


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"set_up_nps": "8"}, "It can only be set up for a size that it takes."),
        ({"name": "one"}, "There is a bench of that name already"),
    ],
)
def test_a_bench_that_can_not_be_is_asked_back(foreman, spool, change, words):
    Bench.objects.create(shop=spool.shop, name="One")
    page = foreman.post("/setup/benches/new/", {"name": "3", "sizes": ["6"], "is_active": "on"} | change)
    assert page.status_code == 422
    assert words in page.content.decode()


def test_a_bench_with_spools_on_it_stays_in_use(foreman, spool):
    bench = Bench.objects.create(shop=spool.shop, name="1")
    type(spool).objects.update(bench=bench)
    page = foreman.post(f"/setup/benches/{bench.id}/", {"name": "1"})
    assert b"1 spools still stand on it" in page.content


# The calendar


def in_days(days: int) -> str:
    return f"{timezone.now().date() + timedelta(days=days):%Y-%m-%d}"


def test_a_day_is_closed_and_opened_again(manager, spool):
    manager.post("/setup/calendar/day/", {"day": in_days(9), "what": "closed", "reason": "holiday"})
    assert ClosedDay.objects.get(shop=spool.shop).reason == "holiday"
    manager.post("/setup/calendar/day/", {"day": in_days(9), "what": "week"})
    assert not ClosedDay.objects.exists()


def test_a_saturday_is_worked_by_hours_of_its_own(manager, spool):
    manager.post("/setup/calendar/day/", {"day": in_days(9), "what": "worked", "hours": "06:00-12:00, 13:00-15:00"})
    assert WorkedDay.objects.filter(shop=spool.shop).count() == 2


def test_a_day_that_is_over_is_frozen(manager):
    page = manager.post("/setup/calendar/day/", {"day": in_days(-3), "what": "closed", "reason": "holiday"})
    assert page.status_code == 422
    assert b"This day is over: choose today or a day to come." in page.content
    assert not ClosedDay.objects.exists()


def test_a_new_week_leaves_the_days_that_are_over_as_they_were(manager, spool):
    monday = {"day_0": "06:00-16:30", **{f"day_{n}": "06:00-14:30" for n in range(1, 5)}}
    manager.post("/setup/calendar/", monday)
    spool.shop.refresh_from_db()
    assert f"{spool.shop.shifts.get(weekday=0).end:%H:%M}" == "16:30"
    past = WorkedDay.objects.filter(shop=spool.shop, day__lt=timezone.now().date())
    assert all(f"{day.end:%H:%M}" == "14:30" for day in past if day.day.weekday() == 0)


def test_hours_that_can_not_be_read_are_asked_back(manager):
    page = manager.post("/setup/calendar/", {"day_0": "from six"})
    assert page.status_code == 422
    assert "“from six” is no shift" in page.content.decode()


def test_the_foreman_sees_the_calendar_and_the_manager_changes_it(foreman):
    assert b"The project manager changes the calendar." in foreman.get("/setup/calendar/").content
    foreman.post("/setup/calendar/day/", {"day": in_days(9), "what": "closed", "reason": "holiday"})
    assert not ClosedDay.objects.exists()


# Jigs


JIG = {
    "serial": "J9",
    "set_point_a": "6 1/2",
    "set_point_b": "5",
    "usual_burn": "4",
    "included_offset": "0",
    "included_min": "60",
    "included_max": "180",
    "leg_min": "4",
    "leg_max": "8'",
}


def test_a_jig_is_added_with_its_first_version(foreman):
    foreman.post("/setup/jigs/new/", JIG)
    points = SetPoints.objects.get(jig__serial="J9")
    assert (points.version, points.set_point_a_mm) == (1, 6.5 * 25.4)


def test_set_points_are_followed_by_a_version_and_never_edited(foreman, spool):
    jig, before = spool.reading.set_points.jig, spool.reading.set_points.set_point_a_mm
    foreman.post(f"/setup/jigs/{jig.id}/", {k: v for k, v in JIG.items() if k != "serial"})
    assert [points.version for points in jig.set_points.order_by("version")] == [1, 2]
    assert SetPoints.objects.get(jig=jig, version=1).set_point_a_mm == before
    spool.reading.refresh_from_db()
    assert spool.reading.set_points.version == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"set_point_a": "six"}, "six"),
        ({"set_point_a": "40 in"}, "between 0 and 24 in"),
        ({"included_offset": "9"}, "is to be mended, not corrected"),
        ({"leg_min": "9'"}, "The shortest leg is shorter"),
        ({"serial": ""}, "This field is required."),
    ],
)
def test_a_jig_that_can_not_be_is_asked_back(foreman, change, words):
    page = foreman.post("/setup/jigs/new/", JIG | change)
    assert page.status_code == 422
    assert words in page.content.decode()
    assert not Jig.objects.filter(serial="J9").exists()


# Jobs and mains


def test_a_main_gets_its_shafts_as_stations(foreman, spool):
    job = spool.tie_in.job
    form = {"name": "West gallery", "nps": "24", "schedule": "STD", "station_from": "0+00", "station_to": "40+80"}
    foreman.post(f"/setup/jobs/{job.id}/mains/new/", form | {"access": "20+40, 0+00"})
    assert job.mains.get(name="West gallery").access_mm == [0.0, 2040 * 304.8]


def test_the_units_of_a_job_stay_once_something_is_measured(foreman, spool):
    job = spool.tie_in.job
    form = {"name": job.name, "units": "metric", "graduation": "1mm", "root_gap": "3/32", "closing_tolerance": "1/8"}
    page = foreman.post(f"/setup/jobs/{job.id}/", form)
    assert page.status_code == 422
    assert b"the units of this job stay as they are" in page.content


# The shop


def shop_form(shop: Shop) -> dict:
    names = ("name", "time_zone", "kerf_64ths", "end_trim_64ths", "keep_from_in", "truck_lb", "truck_deck_in")
    more = ("kettle_length_in", "kettle_width_in", "kettle_depth_in", "scale_lb", "zinc_days", "link_days")
    return {name: getattr(shop, name) for name in (*names, *more)} | {"cut_off": "14:00"}


def test_the_manager_says_what_trucks_and_kettle_take(manager, spool):
    manager.post("/setup/shop/", shop_form(spool.shop) | {"truck_lb": 5000, "link_days": 7})
    spool.shop.refresh_from_db()
    assert (spool.shop.truck_lb, spool.shop.link_days) == (5000, 7)


def test_the_foreman_does_not_change_the_shop(foreman, spool):
    page = foreman.post("/setup/shop/", shop_form(spool.shop) | {"truck_lb": 5000})
    spool.shop.refresh_from_db()
    assert spool.shop.truck_lb == 9000
    assert page.status_code in {403, 422}


def test_a_zone_that_hours_are_counted_in_stays(manager, spool):
    page = manager.post("/setup/shop/", shop_form(spool.shop) | {"time_zone": "America/Denver"})
    assert b"the zone stays as it is" in page.content
