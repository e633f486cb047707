"""Pages are opened by somebody who is signed in."""

import pytest
from django.test import Client

from spools.flow.roles import Role
from tests.factories.people import make_person
from tests.factories.spools import make_spool


@pytest.fixture
def spool(db):
    return make_spool()


@pytest.fixture
def sign_in(spool):
    def signed_in(*roles: Role, name: str = "") -> Client:
        client = Client()
        person = make_person(spool.shop, *(roles or Role), name=name)
        client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
        client.person = person
        return client

    return signed_in
