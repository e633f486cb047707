"""Many readings in one request: each answered as it would be alone, and sent again with no harm."""

import pytest
from rest_framework.test import APIClient

from spools.flow.roles import Role
from spools.models import Reading, Spool
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop

pytestmark = pytest.mark.django_db
BATCH = "/api/v1/readings/batch/"
TYPED = {"leg_a": "36 1/8", "leg_b": "22 9/16", "included": "127.5", "closing": "53", "jig": "J1", "keep_anyway": True}


@pytest.fixture
def shop():
    return make_shop()


@pytest.fixture
def job(shop):
    job = make_job(shop)
    make_set_points(shop, "J1")
    for mark in ("301", "302", "303"):
        make_tie_in(job, mark)
    return job


@pytest.fixture
def phone(shop):
    client = APIClient()
    client.force_authenticate(make_person(shop, Role.FIELD))
    return client


def reading(job, mark: str, **news: object) -> dict[str, object]:
    return TYPED | {"key": f"key-of-{mark}", "job": job.number, "mark": mark} | news


def statuses(answer) -> list[int]:
    return [one["status"] for one in answer.json()["answers"]]


def test_each_reading_is_answered_in_its_place(phone, job):
    answer = phone.post(BATCH, {"readings": [reading(job, "301"), reading(job, "302")]}, format="json")
    assert statuses(answer) == [201, 201]
    assert [one["body"]["letter"] for one in answer.json()["answers"]] == ["A", "A"]
    assert Spool.objects.count() == 2


def test_sent_again_in_other_company_nothing_is_doubled(phone, job):
    phone.post(BATCH, {"readings": [reading(job, "301"), reading(job, "302")]}, format="json")
    again = phone.post(BATCH, {"readings": [reading(job, "302"), reading(job, "303")]}, format="json")
    assert statuses(again) == [200, 201]
    assert Reading.objects.count() == 3


def test_what_somebody_else_measured_waits_but_what_is_here_already_is_answered(phone, job, shop):
    first = reading(job, "301", measured_by="adair")
    refused = phone.post(BATCH, {"readings": [first]}, format="json")
    assert refused.json()["answers"][0]["body"]["code"] == "other_person"
    owner = APIClient()
    owner.force_authenticate(make_person(shop, Role.FIELD, name="Adair"))
    assert statuses(owner.post(BATCH, {"readings": [first]}, format="json")) == [201]
    assert statuses(phone.post(BATCH, {"readings": [first]}, format="json")) == [200]
    assert Reading.objects.get().taken_by.username == "adair"


def test_one_that_is_refused_stops_no_other(phone, job):
    bad = [reading(job, "999"), reading(job, "302", leg_a="3-4"), reading(job, "303", key="x"), {}]
    answer = phone.post(BATCH, {"readings": [*bad, reading(job, "301")]}, format="json")
    assert statuses(answer) == [404, 422, 400, 400, 201]
    assert "leg_a" in answer.json()["answers"][1]["body"]["fields"]
    assert list(Reading.objects.values_list("tie_in__mark", flat=True)) == ["301"]


def test_a_fault_of_ours_at_one_reading_keeps_it_waiting_and_takes_the_others(phone, job, monkeypatch):
    from spools.api import readings_batch

    def falls_over(request, typed):
        if typed["mark"] == "301":
            raise KeyError("a fault nobody thought of")
        return take(request, typed)

    take = readings_batch.take
    monkeypatch.setattr(readings_batch, "take", falls_over)
    answer = phone.post(BATCH, {"readings": [reading(job, "301"), reading(job, "302")]}, format="json")
    assert statuses(answer) == [500, 201]


@pytest.mark.parametrize("body", [{}, {"readings": []}, {"readings": "x"}, {"readings": [1]}, {"readings": [{}] * 51}])
def test_what_is_no_batch_is_refused_as_a_whole(phone, body):
    assert phone.post(BATCH, body, format="json").status_code == 400


def test_nobody_unsigned_sends_any(job):
    assert APIClient().post(BATCH, {"readings": [reading(job, "301")]}, format="json").status_code == 401
