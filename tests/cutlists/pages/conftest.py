"""The saw's pages, opened by somebody who is signed in."""

import pytest
from django.test import Client

from spools.models import Person

BACKEND = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture
def sign_in():
    def signed_in(person: Person) -> Client:
        client = Client()
        client.force_login(person, backend=BACKEND)
        return client

    return signed_in


@pytest.fixture
def at_saw(saw, sign_in):
    return sign_in(saw.cutter)
