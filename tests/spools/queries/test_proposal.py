"""The hours of the proposal are learned from this shop's own welds, by size and make-up."""

from datetime import timedelta

import pytest

from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.flow.roles import Role
from spools.models import Bench
from spools.queries.floor import on_the_floor
from spools.queries.proposal import proposal
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def first():
    return make_spool("300")


@pytest.fixture
def foreman(first):
    return make_person(first.shop, *Role)


@pytest.fixture
def bench(first):
    return Bench.objects.create(shop=first.shop, name="1", operations=["welded"], sizes=["6"], set_up_nps="6")


def ready(mark, first, foreman):
    spool = make_spool(mark, job=first.tie_in.job)
    for step in ("cut", "grooved", "beveled"):
        record_step(spool_id=spool.id, step=step, person=foreman, key=make_key(), at=NOON)
    return spool


def weld(spool, foreman, bench, minute):
    call = {"spool_id": spool.id, "person": foreman, "key": make_key(), "at": NOON + timedelta(minutes=minute)}
    record_step(step="welded", tap=Tap(already=True, bench_id=bench.id), **call)


def test_five_welds_teach_and_four_do_not(first, foreman, bench):
    waiting = ready("399", first, foreman)
    for number in range(5):
        weld(ready(str(310 + number), first, foreman), foreman, bench, 40 * number)
    (move,) = proposal(foreman, at=NOON + timedelta(hours=4)).moves
    assert move.spool_id == waiting.id
    assert "1.0 h (assumed: no five of NPS 6 yet)" in move.reason  # five welds are four stretches between them
    weld(ready("320", first, foreman), foreman, bench, 200)
    (move,) = proposal(foreman, at=NOON + timedelta(hours=4)).moves
    assert "0.7 h (median of 5 here)" in move.reason  # 40 minutes
    assert move.hours == 0.67


def test_a_bench_that_is_down_gives_its_queue_and_takes_nothing(first, foreman, bench):
    other = Bench.objects.create(shop=first.shop, name="2", operations=["welded"], sizes=["6"], set_up_nps="6")
    spool = ready("301", first, foreman)
    put_on_bench(spool_id=spool.id, bench_id=bench.id, person=foreman, key=make_key(), at=NOON)
    bench.down_since, bench.down_reason = NOON, "motor"
    bench.save()
    (move,) = proposal(foreman, at=NOON, of_bench=bench).moves
    assert (move.spool_id, move.bench_id) == (spool.id, other.id)
    waiting = ready("302", first, foreman)
    assert [(m.spool_id, m.bench_id) for m in proposal(foreman, at=NOON).moves] == [(waiting.id, other.id)]


def test_the_floor_shows_a_bench_s_hours_from_the_same_estimate(first, foreman, bench):
    for number in range(3):
        spool = ready(str(301 + number), first, foreman)
        put_on_bench(spool_id=spool.id, bench_id=bench.id, person=foreman, key=make_key(), at=NOON)
    (card,) = on_the_floor(foreman, at=NOON).cards
    assert (card.count, card.hours) == (3, 3.0)
