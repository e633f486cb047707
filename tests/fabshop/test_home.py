"""The first address sends each person to the page of their role, and answers in words where there is none."""

import pytest
from django.test import Client

from spools.flow.roles import Role
from tests.factories.people import make_person, make_shop

pytestmark = pytest.mark.django_db


def home_of(person):
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client.get("/")


@pytest.mark.parametrize(
    ("roles", "goes_to"),
    [((Role.CUTTER,), "/saw/"), ((Role.DRIVER, Role.FOREMAN), "/floor/"), ((Role.TABLET,), "/benches/")],
)
def test_each_person_goes_to_the_page_of_their_first_role(roles, goes_to):
    assert home_of(make_person(make_shop(), *roles))["Location"] == goes_to


@pytest.mark.parametrize("roles", [[], ["lathe"]])
def test_somebody_without_a_role_is_told_what_to_do(roles):
    person = make_person(make_shop())
    person.roles = roles
    person.save()
    answer = home_of(person)
    assert answer.status_code == 403
    assert "no role" in answer.content.decode()
    assert "office" in answer.content.decode()
