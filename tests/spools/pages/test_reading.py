"""A reading's page, and its ways where a survey asks for two bends."""

import pytest

from spools.flow.roles import Role
from spools.models import Reading, Spool
from tests.factories.jobs import make_tie_in
from tests.factories.surveys import ROLLING, SKEWED, bring, two_bend_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def tie_in(spool):
    return make_tie_in(spool.tie_in.job, "301", end_b="beveled", measured_to_b="pipe_end")


@pytest.fixture
def client(sign_in):
    return sign_in(Role.FOREMAN)


def test_the_ways_stand_on_the_page_and_the_chosen_one_is_released(client, tie_in):
    reading = bring(tie_in, ROLLING)
    page = client.get(f"/readings/{reading.id}/")
    shown = page.content.decode()
    assert "whole long radius elbow" in shown.lower()
    assert "From survey shots".lower() in shown.lower()
    way = next(way for way in page.context["ways"] if not way.now)
    body = {"way": way.code, "reason": "no whole 45 in stock", "key": page.context["key"]}
    answer = client.post(f"/readings/{reading.id}/lay-out/", body)
    spool = Spool.objects.get(tie_in=tie_in)
    assert answer["Location"] == f"/spools/{spool.id}/"
    assert "between their centers" in client.get(answer["Location"]).content.decode()


def test_a_reason_that_is_missing_is_asked_for_on_the_same_page(client, tie_in):
    reading = bring(tie_in, SKEWED)
    answer = client.post(f"/readings/{reading.id}/lay-out/", {"way": "x", "key": "12345678"})
    assert answer.status_code == 422
    assert "Say why it is laid out so" in answer.content.decode()
    assert Reading.objects.filter(tie_in=tie_in).count() == 1


def test_its_make_up_page_leads_to_the_ways(client, tie_in):
    spool = two_bend_spool(tie_in, SKEWED)
    shown = client.get(f"/tie-ins/{tie_in.id}/make-up/").content.decode()
    assert f'href="/readings/{spool.reading_id}/">Choose another layout' in shown


def test_changed_ends_build_it_anew_with_the_same_bends(client, tie_in):
    spool = two_bend_spool(tie_in, SKEWED)
    page = client.get(f"/tie-ins/{tie_in.id}/make-up/")
    body = {"turn": "as it is", "end_a": "plain", "end_b": "beveled", "seat": "set-on", "reason": "a sleeve"}
    client.post(f"/tie-ins/{tie_in.id}/make-up/", body | {"key": page.context["key"]})
    spool.refresh_from_db()
    anew = Spool.objects.get(tie_in=tie_in, live=True)
    assert (spool.live, anew.build, anew.reading) == (False, 2, spool.reading)
    assert anew.pieces.first().ends[0]["prep"] == "plain"


def test_two_bends_pages_that_show_a_spool_all_open(client, tie_in):
    spool = two_bend_spool(tie_in, ROLLING)
    own = (f"/spools/{spool.id}/", f"/spools/{spool.id}/solid.json")
    for path in (*own, "/floor/", "/spares/", "/saw/", "/field/book.json"):
        assert client.get(path).status_code == 200, path


def test_what_the_survey_noticed_stands_with_the_reading(client, tie_in):
    reading = bring(tie_in, SKEWED)
    assert (
        "The axes miss each other by more than the joints take"
        in client.get(f"/readings/{reading.id}/").content.decode()
    )
