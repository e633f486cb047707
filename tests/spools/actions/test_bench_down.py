"""A bench goes down and comes up; each stop is kept once and its working hours are counted."""

from datetime import timedelta

import pytest

from spools.actions.bench_down import bring_bench_up, take_bench_down
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Bench, BenchStop
from spools.queries.bench_stops import by_bench, lost_lately, stops_told
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)


@pytest.fixture
def shop():
    return make_shop()  # 06:00 to 14:30, Monday to Friday; NOON is a Tuesday, 09:00 there


@pytest.fixture
def bench(shop):
    return Bench.objects.create(shop=shop, name="1")


@pytest.fixture
def foreman(shop):
    return make_person(shop, Role.FOREMAN)


def down(bench, foreman, at=NOON, **fields):
    return take_bench_down(bench_id=bench.id, person=foreman, at=at, reason=fields.pop("reason", "motor"), **fields)


def test_hours_lost_are_working_hours(bench, foreman):
    down(bench, foreman)
    assert [one.hours for one in lost_lately(foreman, at=NOON + 2 * HOUR)] == [2.0]
    bring_bench_up(bench_id=bench.id, person=foreman, at=NOON + 24 * HOUR)
    (lost,) = lost_lately(foreman, at=NOON + 30 * HOUR)
    assert lost.hours == 5.5 + 3.0  # until 14:30, and from 06:00 to 09:00 the next day
    assert not lost.goes_on


def test_told_twice_it_is_one_stop_with_the_newest_words(bench, foreman):
    down(bench, foreman)
    down(bench, foreman, at=NOON + HOUR, reason="motor and drive", back_at=NOON + 5 * HOUR)
    stop = BenchStop.objects.get()
    assert (stop.down_at, stop.reason, stop.back_expected_at) == (NOON, "motor and drive", NOON + 5 * HOUR)


def test_stops_of_one_bench_add_up_and_the_worst_comes_first(shop, bench, foreman):
    other = Bench.objects.create(shop=shop, name="Groover")
    for number in range(2):
        down(bench, foreman, at=NOON + number * 2 * HOUR)
        bring_bench_up(bench_id=bench.id, person=foreman, at=NOON + (number * 2 + 1) * HOUR)
    down(other, foreman)
    rows = by_bench(lost_lately(foreman, at=NOON + 4 * HOUR))
    assert [(row.name, row.stops, row.hours) for row in rows] == [("Groover", 1, 4.0), ("bench 1", 2, 2.0)]


def test_fitters_and_the_manager_are_told_while_it_is_down(shop, bench, foreman):
    fitter, driver = make_person(shop, Role.FITTER), make_person(shop, Role.DRIVER)
    down(bench, foreman)
    assert [stop.bench for stop in stops_told(fitter, at=NOON)] == [bench]
    assert stops_told(driver, at=NOON) == []
    bring_bench_up(bench_id=bench.id, person=foreman, at=NOON + HOUR)
    assert stops_told(fitter, at=NOON + HOUR) == []


@pytest.mark.parametrize("fields", [{"reason": " "}, {"back_at": NOON - HOUR}])
def test_it_asks_for_a_reason_and_a_time_to_come(bench, foreman, fields):
    with pytest.raises(ShopError) as refusal:
        down(bench, foreman, **fields)
    assert refusal.value.code == "invalid"
    assert not BenchStop.objects.exists()


def test_only_the_foreman_takes_a_bench_down(shop, bench):
    with pytest.raises(ShopError) as refusal:
        down(bench, make_person(shop, Role.MANAGER))
    assert refusal.value.code == "not_your_role"
