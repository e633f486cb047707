"""A shop of one's own is one command away."""

import io

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from spools.models import Person, Shop

pytestmark = pytest.mark.django_db


def open_shop(monkeypatch, password: str, *args: str) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(password + "\n"))
    call_command("open_shop", *args, "--password-from-stdin", verbosity=0, stdout=io.StringIO())


def test_the_first_foreman_signs_in_and_sees_the_floor(monkeypatch):
    open_shop(monkeypatch, "gallery-of-pipes", "My shop", "--time-zone", "Europe/Berlin", "--person", "ruiz")
    client = Client()
    answer = client.post("/sign-in/", {"username": "ruiz", "password": "gallery-of-pipes"}, follow=True)
    assert answer.request["PATH_INFO"] == "/floor/"
    assert answer.status_code == 200


def test_a_second_person_joins_the_same_shop(monkeypatch):
    open_shop(monkeypatch, "gallery-of-pipes", "My shop", "--person", "ruiz")
    open_shop(monkeypatch, "gallery-of-pipes", "My shop", "--person", "okafor", "--roles", "cutter,fitter")
    assert Shop.objects.count() == 1
    assert Person.objects.get(username="okafor").roles == ["cutter", "fitter"]


@pytest.mark.parametrize(
    ("password", "args"),
    [
        ("short", ["My shop", "--person", "ruiz"]),
        ("gallery-of-pipes", ["My shop", "--person", "ruiz", "--time-zone", "Mars/Base"]),
        ("gallery-of-pipes", ["My shop", "--person", "ruiz", "--roles", "king"]),
        ("gallery-of-pipes", [" ", "--person", "ruiz"]),
    ],
)
def test_what_can_not_be_is_refused_and_leaves_nothing(monkeypatch, password, args):
    with pytest.raises(CommandError):
        open_shop(monkeypatch, password, *args)
    assert not Shop.objects.exists()
