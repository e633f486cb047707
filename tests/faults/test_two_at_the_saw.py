"""Two people at the saw at once, doing whatever comes: the steel adds up to the unit and no bar is used twice.

The long run on PostgreSQL, with what was done and refused: SAW_ROUNDS=250 DATABASE_URL=... pytest -s on this file.
"""

import os
from random import Random

import pytest

from spools.flow.roles import Role
from tests.cutlists.actions.a_saw import Saw, complaints
from tests.factories.people import make_person
from tests.factories.spools import make_key, make_spool
from tests.factories.stock import make_bars
from tests.faults.at_once import a_real_database

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]

ROUNDS = int(os.environ.get("SAW_ROUNDS", "4"))
TAPS = 8  # for each person in a round


def test_two_people_at_once_use_no_bar_twice_and_lose_no_length(tmp_path):
    first = make_spool("214")
    for mark in range(215, 226 + ROUNDS // 3):
        make_spool(str(mark), job=first.tie_in.job)
    make_bars(first.shop, 4)
    people = [make_person(first.shop, Role.CUTTER, Role.FOREMAN) for _ in range(2)]
    saws = [Saw(shop=first.shop, people=[person], dice=Random(n)) for n, person in enumerate(people)]
    saws[0].plan({"person": people[0], "key": make_key(), "at": saws[0].at})
    with a_real_database(tmp_path) as floor:
        for round_ in range(ROUNDS):
            floor.all_at_once([[saw.tap] * TAPS for saw in saws])
            assert complaints(first.shop) == [], f"round {round_}: {[saw.done for saw in saws]}"
    print(*(f"{dict(saw.done)}, refused {dict(saw.refused)}" for saw in saws), sep="\n")
    assert sum(saw.done["cut"] + saw.done["next_cut"] for saw in saws) > 0
