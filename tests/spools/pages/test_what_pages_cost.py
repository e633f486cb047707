"""What pages cost: the number of queries, with session and user, the same for a few spools and for many."""

import json
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from spools.flow.roles import Role
from spools.models import Load
from tests.factories.full_shop import FullShop

COUNTS = json.loads((Path(__file__).parents[2] / "query_counts.json").read_text())


@pytest.mark.django_db
def test_a_page_costs_the_same_number_of_queries_however_many_spools(spool, sign_in):
    shop, client = FullShop(spool), sign_in(*Role)
    shop.one_of_each()
    shop.one_of_each()
    words = {"spool": shop.spool().id, "job": shop.job.id, "bench": shop.benches[0].id, "load": Load.objects.first().id}

    def counted() -> dict[str, int]:
        found = {}
        for page in COUNTS:
            client.get(page.format(**words))  # the first visit draws and keeps the spool's drawing
            with CaptureQueriesContext(connection) as seen:
                assert client.get(page.format(**words)).status_code in {200, 302}
            found[page] = len(seen)
        return found

    few = counted()
    for _ in range(3):
        shop.one_of_each()
    assert counted() == few
    assert {page: count for page, count in few.items() if count > COUNTS[page]} == {}


def test_every_page_is_allowed_eight_queries_at_most():
    assert {page for page, most in COUNTS.items() if most > 8} == set()
