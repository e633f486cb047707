"""Which of D and E a tie-in still needs, on the reading's page and in its form."""

from dataclasses import replace

import pytest

from spools.flow.roles import Role
from spools.queries.further_checks import further_of_reading, further_of_tie_in
from spools.solving import Typed
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, make_key, take

pytestmark = pytest.mark.django_db

# 25 x 50 at 60 included: A = B cos g, so C hardly moves with leg A.
BLIND = Typed(leg_a="25", leg_b="50", included="60", closing="43 5/16")


@pytest.fixture
def tie_in(spool):
    return make_tie_in(spool.tie_in.job, "215")


@pytest.fixture
def spool(db):
    from tests.factories.spools import make_spool

    return make_spool()


@pytest.fixture
def client(spool, client):
    person = make_person(spool.shop, *Role, name="Ortiz")
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def test_a_reading_that_vouches_for_both_legs_needs_nothing_more(spool):
    assert further_of_reading(spool.reading) == ()


def test_where_c_is_blind_to_a_leg_the_measure_that_sees_it_is_named(tie_in):
    reading = take(tie_in, BLIND, keep_anyway=True).reading
    assert further_of_reading(reading) == ("E",)
    tie_in.refresh_from_db()
    assert further_of_tie_in(tie_in) == ("E",)


def test_a_tie_in_without_a_reading_needs_none_before_the_first(tie_in):
    assert further_of_tie_in(tie_in) == ()


def test_the_readings_page_says_to_take_it_and_leads_to_the_form(tie_in, client):
    reading = take(tie_in, BLIND, keep_anyway=True).reading
    page = client.get(f"/readings/{reading.id}/").content.decode()
    assert "Take E: from a mark 12 in back from end A to end B, read from the hook." in page
    assert f"/field/{tie_in.id}/" in page


def test_the_form_says_it_before_the_tape_is_out_again_and_shows_the_field(tie_in, client):
    take(tie_in, BLIND, keep_anyway=True)
    page = client.get(f"/field/{tie_in.id}/").content.decode()
    assert "Take E:" in page
    assert "<details open>" in page


def test_a_reading_that_does_not_close_and_leaves_several_suspects_asks_for_d_and_e_at_once(tie_in, client):
    wrong = replace(CLOSES, closing="52", burn_a="1", burn_b="1")
    posted = {
        "key": make_key() + "-typed",
        "leg_a": wrong.leg_a,
        "leg_b": wrong.leg_b,
        "included": wrong.included,
        "closing": wrong.closing,
        "burn_a": "4",
        "burn_b": "4",
        "measured_to_a": tie_in.measured_to_a,
        "measured_to_b": tie_in.measured_to_b,
        "set_points": tie_in.job.shop.jigs.first().set_points.first().id,
    }
    page = client.post(f"/field/{tie_in.id}/", posted)
    said = page.content.decode()
    assert page.context["trouble"].code == "does_not_close"
    assert "Take D:" in said
    assert "Take E:" in said


def test_a_reading_that_closes_is_asked_nothing_more(spool, client):
    assert "One measure more" not in client.get(f"/readings/{spool.reading_id}/").content.decode()


def test_the_spools_page_says_its_chance_and_its_limits_in_plain_words(spool, client):
    page = client.get(f"/spools/{spool.id}/").content.decode()
    assert "Will it fit?" in page
    assert "in 100</b> spools measured and built like this one meet the" in page
    assert "common practice, no source" in page
    assert "What the checks can't see" in page.replace("&#x27;", "'")
