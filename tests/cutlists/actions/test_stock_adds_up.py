"""Whatever is planned, cut, cut wrong, undone, called off, counted or returned: the steel adds up to the unit."""

import os
from random import Random

import pytest

from spools.actions.release_spool import release_spool
from spools.flow.roles import Role
from spools.solving import Typed
from tests.cutlists.actions.a_saw import Saw, complaints, done_cuts
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import NOON, make_key, take
from tests.factories.stock import make_bars

pytestmark = pytest.mark.django_db

RUNS = int(os.environ.get("STOCK_RUNS", "60"))
TAPS = int(os.environ.get("STOCK_TAPS", "12"))
READINGS = [
    Typed(leg_a="36 1/8", leg_b="22 9/16", included="127.5", closing="53 1/16"),
    Typed(leg_a="41 1/2", leg_b="22 9/16", included="127.5"),
    Typed(leg_a="28", leg_b="30 3/4", included="140"),
]


def a_shop_at_work(seed: int) -> Saw:
    dice = Random(seed)
    shop = make_shop()
    job = make_job(shop)
    people = [make_person(shop, Role.CUTTER), make_person(shop, Role.FOREMAN, Role.CUTTER)]
    for number in range(4):
        taken = take(make_tie_in(job, str(200 + number)), dice.choice(READINGS), keep_anyway=True)
        if taken.spool is None:
            call = {"person": people[1], "key": make_key(), "at": NOON, "reason": "no closing measure"}
            release_spool(reading_id=taken.reading.id, **call)
    make_bars(shop, 2)
    saw = Saw(shop=shop, people=people, dice=dice)
    saw.plan({"person": people[0], "key": make_key(), "at": NOON})
    return saw


@pytest.mark.parametrize("seed", range(RUNS))
def test_length_received_is_length_in_stock_cut_kerf_trim_and_scrap(seed):
    saw = a_shop_at_work(seed)
    for tap in range(TAPS):
        before = done_cuts(saw.shop)
        saw.tap()
        assert complaints(saw.shop) == [], f"tap {tap}: {saw.done} {saw.refused}"
        after = done_cuts(saw.shop)
        assert all(after[cut] == place for cut, place in before.items() if cut in after)
    assert sum(saw.done.values()) > 0
