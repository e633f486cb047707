"""The project manager's page and the lists behind it: from a bad week to what was stopped in two clicks."""

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from spools.models import Bench, BenchStop, Spool
from tests.factories.jobs import make_job
from tests.factories.spools import make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def client(spool, sign_in):
    client = sign_in()
    at = timezone.now()
    started, due = at - timedelta(days=3), at - timedelta(days=2)
    Spool.objects.filter(id=spool.id).update(clock_start_at=started, due_at=due)
    bench = Bench.objects.create(shop=spool.shop, name="Groover")
    up = started + timedelta(hours=5)
    BenchStop.objects.create(bench=bench, reason="hydraulic pump", down_at=started, up_at=up, by=client.person)
    return client


def html(answer) -> str:
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_bar_of_the_chart_leads_to_its_weeks_spools_and_what_was_stopped(client, spool):
    page = html(client.get(reverse("promise")))
    (address,) = re.findall(r'<a href="(/promise/due/\?due_week=[^"]+)" aria-label="Week from', page)
    behind = html(client.get(address))
    assert "Groover down" in behind
    assert "hydraulic pump" in behind
    assert reverse("spool", args=[spool.id]) in behind


def test_the_week_in_the_table_names_the_stop_and_leads_to_it(client):
    page = html(client.get(reverse("promise")))
    address = re.search(r'href="(/benches/stops/\?week=[^"]+)">Groover down', page)[1]
    assert "hydraulic pump" in html(client.get(address))


def test_lists_keep_to_the_job_that_was_chosen(client, spool):
    other = make_spool("9", job=make_job(spool.shop))
    page = html(client.get(f"{reverse('promise')}?job={spool.tie_in.job_id}"))
    address = re.search(r'href="(/promise/measured/[^"]+)"', page)[1].replace("&amp;", "&")
    behind = html(client.get(address))
    assert reverse("spool", args=[spool.id]) in behind
    assert reverse("spool", args=[other.id]) not in behind


def test_a_list_narrowed_to_a_week_exports_that_week(client, spool):
    Spool.objects.filter(id=spool.id).update(due_at=timezone.now() - timedelta(weeks=3))
    monday = (timezone.now() - timedelta(weeks=8)).date().isoformat()
    address = reverse("promise-export", args=["due", "csv"])
    assert spool.label in html(client.get(address))
    assert spool.label not in html(client.get(f"{address}?due_week={monday}"))


@pytest.mark.parametrize("query", ["?due_week=soon", "?job=none", "?accepted_on=2026-13-01"])
def test_an_address_that_was_mistyped_is_told_so(client, query):
    answer = client.get(reverse("promise-list", args=["due"]) + query)
    assert answer.status_code == 404
    assert "There is no" in answer.content.decode()


def test_a_week_of_stops_that_was_mistyped_is_told_so(client):
    assert client.get(f"{reverse('bench-stops')}?week=soon").status_code == 404


def test_nothing_at_risk_is_not_marked_as_a_warning(client):
    tile = re.search(r'<a class="tile ([a-z]*)" href="/promise/at_risk/">', html(client.get(reverse("promise"))))
    assert tile[1] == ""
