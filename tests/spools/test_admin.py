"""The office keeps tables and people; what happened and what was measured it can only read."""

import pytest
from django.contrib import admin
from django.urls import reverse

from cutlists.models import CutPlan, StockBar, StockEvent
from spools.flow.roles import Role
from spools.models import Bench, Event, JigCheck, Person, Reading, SetPoints, Spool
from tests.factories.jigs import make_set_points
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_spool
from tests.factories.stock import make_bars

pytestmark = pytest.mark.django_db

WRITTEN_BY_DEEDS = [Event, Reading, JigCheck, Spool, StockBar, StockEvent, CutPlan]


def address(model, what, *args):
    return reverse(f"admin:{model._meta.app_label}_{model._meta.model_name}_{what}", args=args)


@pytest.fixture
def office(client):
    keeper = Person(username="keeper", is_staff=True, is_superuser=True)
    keeper.set_unusable_password()
    keeper.save()
    client.force_login(keeper)
    return client


def test_every_list_opens(office):
    make_bars(make_spool().shop)
    ours = [model for model in admin.site._registry if model._meta.app_label in {"spools", "cutlists"}]
    assert len(ours) >= 13
    assert {model: office.get(address(model, "changelist")).status_code for model in ours} == dict.fromkeys(ours, 200)


@pytest.mark.parametrize("model", WRITTEN_BY_DEEDS)
def test_what_deeds_write_offers_nothing_but_looking(office, model):
    assert office.get(address(model, "add")).status_code == 403
    shown = admin.site._registry[model]
    assert not shown.has_add_permission(None)
    assert not shown.has_change_permission(None)
    assert not shown.has_delete_permission(None)


@pytest.mark.parametrize("model", [Event, Reading, Spool, StockBar, StockEvent])
def test_a_written_row_opens_without_a_save_button_and_refuses_a_forged_one(office, model):
    make_bars(make_spool().shop)
    row = model.objects.first()
    page = office.get(address(model, "change", row.pk))
    assert page.status_code == 200
    assert b'name="_save"' not in page.content
    assert office.post(address(model, "change", row.pk), {"reason": "x"}).status_code == 403
    assert office.post(address(model, "delete", row.pk), {"post": "yes"}).status_code == 403


def test_no_append_only_table_is_shown_to_change():
    shown = {model for model in admin.site._registry if getattr(model, "append_only", False)}
    assert shown >= {Event, Reading, StockEvent}
    assert not [model for model in shown if admin.site._registry[model].has_change_permission(None)]


def test_a_person_is_added_with_their_roles_ticked(office):
    shop = make_shop()
    given = {"username": "ruiz", "last_name": "Ruiz", "shop": shop.id, "roles": ["fitter", "foreman"]}
    passwords = {"usable_password": "true", "password1": "a long tape 40", "password2": "a long tape 40"}
    answer = office.post(address(Person, "add"), given | passwords)
    assert answer.status_code == 302, answer.content.decode()
    assert Person.objects.get(username="ruiz").role_set == {Role.FITTER, Role.FOREMAN}


def test_a_person_is_never_deleted(office):
    person = make_person(make_shop(), Role.FITTER)
    assert office.post(address(Person, "delete", person.pk), {"post": "yes"}).status_code == 403


def test_a_bench_takes_its_sizes_as_a_line_and_refuses_one_that_is_not_in_the_tables(office):
    shop = make_shop()
    given = {"shop": shop.id, "name": "3", "operations": ["welded"], "is_active": "on"}
    assert b"No NPS 7 in the tables" in office.post(address(Bench, "add"), given | {"sizes": "6, 7"}).content
    assert office.post(address(Bench, "add"), given | {"sizes": "6, 2-1/2"}).status_code == 302
    assert Bench.objects.get(name="3").sizes == ["6", "2-1/2"]


def test_set_points_that_readings_rest_on_cannot_be_changed(office):
    points = make_set_points(make_shop())
    page = office.get(address(type(points.jig), "change", points.jig_id)).content.decode()
    assert 'name="set_points-0-set_point_a_mm"' not in page
    given = {"shop": points.jig.shop_id, "serial": "J1", "set_points-TOTAL_FORMS": 1, "set_points-INITIAL_FORMS": 1}
    row = {"set_points-0-id": points.id, "set_points-0-jig": points.jig_id, "set_points-0-set_point_a_mm": 1}
    office.post(address(type(points.jig), "change", points.jig_id), given | row)
    assert SetPoints.objects.get(id=points.id).set_point_a_mm == 101.6


def test_people_of_the_floor_do_not_get_in(client):
    client.force_login(make_person(make_shop(), Role.FOREMAN))
    assert client.get(reverse("admin:index")).status_code == 302
