"""The pages of steel tags: stamp, retire, find the spool that lost its tag."""

import pytest
from django.test import Client
from django.urls import reverse

from spools.flow.roles import Role
from spools.models import Spool, StampedTag, TagBatch
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


def signed_in(spool: Spool, *roles: Role) -> Client:
    """A client of somebody with these roles in the spool's shop."""
    client = Client()
    client.force_login(make_person(spool.shop, *roles), backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_a_batch_is_stamped_listed_and_printed() -> None:
    client = signed_in(make_spool(), Role.FOREMAN)
    posted = {"count": "12", "key": make_key() * 2}
    assert client.post(reverse("tag-stamp"), posted).status_code == 302
    client.post(reverse("tag-stamp"), posted)
    batch = TagBatch.objects.get()
    page = client.get(reverse("tags")).content.decode()
    assert reverse("tag-list", args=[batch.id]) in page
    assert batch.tags.first().number in page
    assert client.get(reverse("tag-list", args=[batch.id]))["Content-Type"] == "application/pdf"


@pytest.mark.parametrize("count", ["", "many", "-3", "1e3", "99999", "٣"])
def test_a_count_that_is_none_is_refused_beside_its_field(count: str) -> None:
    answer = signed_in(make_spool(), Role.FOREMAN).post(reverse("tag-stamp"), {"count": count, "key": make_key() * 2})
    assert answer.status_code == 422
    assert "Write how many" in answer.content.decode()
    assert not StampedTag.objects.exists()


def test_retiring_asks_why() -> None:
    client = signed_in(make_spool(), Role.FITTER)
    client.post(reverse("tag-stamp"), {"count": "1", "key": make_key() * 2})
    number = StampedTag.objects.get().number
    assert client.post(reverse("tag-retire"), {"number": number, "reason": ""}).status_code == 422
    client.post(reverse("tag-retire"), {"number": number, "reason": "bent"})
    assert StampedTag.objects.get().retired_reason == "bent"


def test_a_driver_finds_a_spool_by_tape_as_it_is_typed_in_feet_and_inches() -> None:
    spool = make_spool()
    Spool.objects.filter(id=spool.id).update(accepted_at=NOON)
    client = signed_in(spool, Role.DRIVER)
    page = client.get(reverse("tag-lost"), {"nps": "6", "leg": "3' 0-1/4\"", "check": "4' 5"}).content.decode()
    assert reverse("spool", args=[spool.id]) in page
    none = client.get(reverse("tag-lost"), {"nps": "8", "leg": "3' 0-1/4\"", "check": "4' 5"}).content.decode()
    assert "None of that size" in none


@pytest.mark.parametrize("junk", [{"leg": "x", "check": "4"}, {"leg": "", "check": ""}, {"leg": "nan", "check": "1e9"}])
def test_a_taping_that_cannot_be_read_is_refused_in_words(junk: dict[str, str]) -> None:
    answer = signed_in(make_spool(), Role.DRIVER).get(reverse("tag-lost"), {"nps": "6", **junk})
    assert answer.status_code == 422
    assert junk["leg"] in answer.content.decode()
