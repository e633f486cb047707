"""What can't be measured is said once, keeps crews away, and is over when it is cleared or measured."""

from datetime import timedelta

import pytest
from rest_framework.test import APIClient

from spools.actions.clear_obstacle import clear_obstacle
from spools.actions.report_obstacle import report_obstacle
from spools.actions.take_reading import take_reading
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Obstacle
from spools.queries.field_book import book_of
from spools.queries.obstacles import obstacles_of
from spools.queries.walk import stops_of
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON

pytestmark = pytest.mark.django_db
KEY = "key-of-a-phone"


@pytest.fixture
def shop():
    return make_shop()


@pytest.fixture
def tie_in(shop):
    job = make_job(shop)
    make_tie_in(job, "302")
    return make_tie_in(job, "301")


@pytest.fixture
def hand(shop):
    return make_person(shop, Role.FIELD)


@pytest.fixture
def foreman(shop):
    return make_person(shop, Role.FOREMAN)


def report(tie_in, person, **news):
    given = {"why": "water", "note": "up to the knee", "key": KEY, "at": NOON}
    return report_obstacle(tie_in_id=tie_in.id, person=person, **given | news)


def test_it_is_kept_once_however_often_it_is_sent(tie_in, hand):
    first, again = report(tie_in, hand), report(tie_in, hand)
    assert (first[1], again[1]) == (False, True)
    assert Obstacle.objects.count() == 1


def test_a_key_with_other_content_is_refused(tie_in, hand):
    report(tie_in, hand)
    with pytest.raises(ShopError) as refusal:
        report(tie_in, hand, why="blocked")
    assert refusal.value.code == "key_reused"


@pytest.mark.parametrize(("news", "column"), [({"why": "tired"}, "why"), ({"why": "wrong_size", "note": " "}, "note")])
def test_what_is_missing_is_asked_for(tie_in, hand, news, column):
    with pytest.raises(ShopError) as refusal:
        report(tie_in, hand, **news)
    assert set(refusal.value.fields) == {column}


def test_nobody_is_sent_there_and_the_phone_knows_why(tie_in, hand):
    report(tie_in, hand)
    assert [stop.mark for stop in stops_of(tie_in.main, "measure")] == ["302"]
    said = {row["mark"]: row["obstacle"] for row in book_of(hand, at=NOON)["tie_ins"]}
    assert (said["301"]["why"], said["301"]["note"], said["302"]) == ("water", "up to the knee", None)


def test_the_foreman_clears_it_by_name_and_it_is_back_on_the_walk(tie_in, hand, foreman):
    obstacle, _ = report(tie_in, hand)
    clear_obstacle(obstacle_id=obstacle.id, words="pumped dry", person=foreman, at=NOON)
    obstacle.refresh_from_db()
    assert (obstacle.cleared_by, obstacle.cleared_words) == (foreman, "pumped dry")
    assert obstacles_of(foreman) == []
    assert {stop.mark for stop in stops_of(tie_in.main, "measure")} == {"301", "302"}


def test_only_the_foreman_clears_and_only_his_own_shops(tie_in, hand):
    obstacle, _ = report(tie_in, hand)
    for person, code in ((hand, "not_your_role"), (make_person(make_shop("Other"), Role.FOREMAN), "not_found")):
        with pytest.raises(ShopError) as refusal:
            clear_obstacle(obstacle_id=obstacle.id, words="", person=person, at=NOON)
        assert refusal.value.code == code


@pytest.mark.parametrize(("hours_later", "stands"), [(1, False), (-1, True)])
def test_a_reading_taken_since_shows_that_it_is_gone(shop, tie_in, hand, hours_later, stands):
    report(tie_in, hand)
    taken_at = NOON + timedelta(hours=hours_later)
    points = make_set_points(shop, "J1")
    which = {"tie_in_id": tie_in.id, "set_points_id": points.id, "typed": CLOSES}
    take_reading(**which, person=hand, key="of-it", at=taken_at + timedelta(1), taken_at=taken_at)
    assert bool(obstacles_of(hand)) is stands


def test_over_the_api_it_answers_201_and_its_repeat_200(tie_in, hand):
    client = APIClient()
    client.force_authenticate(hand)
    body = {"key": KEY, "job": tie_in.job.number, "mark": "301", "why": "no_saddle", "seen_at": NOON.isoformat()}
    answers = [client.post("/api/v1/obstacles/new/", body, format="json").status_code for _ in range(2)]
    lost = client.post("/api/v1/obstacles/new/", body | {"mark": "999"}, format="json")
    assert (answers, lost.status_code) == ([201, 200], 404)


def test_the_foreman_sees_it_on_the_floor_in_his_notices_and_clears_it_on_the_field_page(client, tie_in, hand, foreman):
    obstacle, _ = report(tie_in, hand)
    client.force_login(foreman)
    for page in ("/floor/", "/notices/", "/field/obstacles/"):
        shown = client.get(page).content.decode()
        assert "up to the knee" in shown, page
    answer = client.post(f"/field/obstacles/{obstacle.id}/clear/", {"words": "pumped dry"})
    assert answer.status_code == 302
    assert "up to the knee" not in client.get("/field/obstacles/").content.decode()
