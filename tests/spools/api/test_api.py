"""The API says and does what the pages do: same deeds, same refusals, only the own shop."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from spools.flow.roles import Role
from spools.models import Reading
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_key, make_spool

pytestmark = pytest.mark.django_db
TYPED = {"leg_a": "36 1/8", "leg_b": "22 9/16", "included": "127.5", "closing": "53"}


@pytest.fixture
def spool():
    return make_spool()


def client_of(person) -> APIClient:
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {Token.objects.create(user=person).key}")
    return client


@pytest.fixture
def foreman(spool):
    return client_of(make_person(spool.shop, Role.FOREMAN))


def test_nobody_comes_in_unsigned(spool):
    assert APIClient().get("/api/v1/spools/").status_code == 401


def test_a_reading_is_taken_once_however_often_it_is_sent(spool, foreman):
    make_tie_in(spool.tie_in.job, "215")
    body = TYPED | {"key": make_key() + "-of-a-phone", "job": spool.tie_in.job.number, "mark": "215", "jig": "J1"}
    first = foreman.post("/api/v1/readings/new/", body, format="json")
    again = foreman.post("/api/v1/readings/new/", body, format="json")
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json()["spool"] == again.json()["spool"]
    assert Reading.objects.filter(tie_in__mark="215").count() == 1


def test_a_length_that_has_no_sure_value_is_asked_back_beside_its_field(spool, foreman):
    make_tie_in(spool.tie_in.job, "215")
    body = TYPED | {"leg_a": "3-4", "key": "key-of-a-phone", "job": spool.tie_in.job.number, "mark": "215", "jig": "J1"}
    answer = foreman.post("/api/v1/readings/new/", body, format="json")
    assert answer.status_code == 422
    assert "leg_a" in answer.json()["fields"]


def test_a_step_answers_201_and_its_repeat_200(spool, foreman):
    body = {"key": "key-of-a-tap", "step": "cut"}
    first = foreman.post(f"/api/v1/spools/{spool.id}/steps/", body, format="json")
    again = foreman.post(f"/api/v1/spools/{spool.id}/steps/", body, format="json")
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json()["number"] == again.json()["number"] == 2
    assert first.json()["next_step"] == "grooved"


def test_a_step_out_of_order_says_what_is_missing(spool, foreman):
    answer = foreman.post(f"/api/v1/spools/{spool.id}/steps/", {"key": "key-of-a-tap", "step": "welded"}, format="json")
    assert answer.status_code == 409
    assert answer.json()["facts"]["missing"]["cut"] == ["A", "E", "B"]


def test_a_step_costs_at_most_six_statements(spool, foreman):
    with CaptureQueriesContext(connection) as seen:
        foreman.post(f"/api/v1/spools/{spool.id}/steps/", {"key": "key-of-a-tap", "step": "cut"}, format="json")
    statements = [q["sql"] for q in seen if not q["sql"].startswith(("BEGIN", "SAVEPOINT", "RELEASE", "COMMIT"))]
    assert len(statements) <= 6


def test_another_shops_things_are_not_there(spool):
    stranger = client_of(make_person(make_shop("Other shop"), Role.FOREMAN))
    assert stranger.get(f"/api/v1/spools/{spool.id}/").status_code == 404
    answer = stranger.post(f"/api/v1/spools/{spool.id}/steps/", {"key": "key-of-a-tap", "step": "cut"}, format="json")
    assert answer.status_code == 404
    for name in ("spools", "readings", "tie-ins", "loads"):
        assert stranger.get(f"/api/v1/{name}/").json()["results"] == []


def test_one_spool_shows_its_pieces_and_events(spool, foreman):
    body = foreman.get(f"/api/v1/spools/{spool.id}/").json()
    assert [piece["mark"] for piece in body["pieces"]] == ["A", "E", "B"]
    assert body["events"][0]["code"] == "measured"


@pytest.mark.parametrize(
    "body",
    [
        "[" * 100_000,
        '{"key": "aaaaaaaaaa", "step": NaN}',
        '{"key": "\\u0000aaaaaaaaa", "step": "cut"}',
        "\xff",
        "[]",
        "null",
    ],
)
def test_hostile_bodies_get_400(spool, foreman, body):
    answer = foreman.post(f"/api/v1/spools/{spool.id}/steps/", body, content_type="application/json")
    assert answer.status_code == 400


@pytest.mark.parametrize("query", ["cursor=x", "status=nonsense", "live=%00", "job=%00", "cursor=%ff"])
def test_hostile_queries_are_never_a_500(spool, foreman, query):
    assert foreman.get(f"/api/v1/spools/?{query}").status_code in {200, 400, 404}


def test_lists_cost_the_same_however_long(spool, foreman):
    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            for name in ("spools", "tie-ins", "readings"):
                assert foreman.get(f"/api/v1/{name}/").status_code == 200
        return len(seen)

    few = queries()
    for number in range(300, 310):
        make_spool(str(number), job=spool.tie_in.job)
    assert queries() == few
