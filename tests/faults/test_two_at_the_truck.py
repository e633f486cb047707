"""Several phones count one load at once: every spool is counted once, and the lines say what the events say."""

from functools import partial

import pytest

from spools.actions.count_back import count_back, report_missing
from spools.actions.rebuild_status import rebuild_status
from spools.actions.replace_spool import start_replacement
from spools.errors import ShopError
from spools.models import Event, Load, LoadLine, Spool
from tests.factories.loads import everybody_of, make_accepted_ones, make_load
from tests.factories.spools import NOON, make_key
from tests.faults.at_once import PEOPLE, a_real_database

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("unguarded_after")]


def test_eight_phones_on_one_load_count_each_spool_once(tmp_path):
    spools = make_accepted_ones("214", "215", "216")
    load = make_load(*spools)
    call = {"load_id": load.id, "person": everybody_of(spools[0]), "at": NOON}
    numbers = [spool.id for spool in spools]
    shared = make_key()
    days = []
    for phone in range(PEOPLE):
        here = partial(count_back, spool_ids=numbers, key=shared if phone % 2 else make_key(), **call)
        lost = partial(report_missing, spool_id=numbers[2], reason="not here", key=make_key(), **call)
        days.append([lost, here] if phone == 0 else [here, here])
    with a_real_database(tmp_path) as floor:
        floor.all_at_once(days)
        for number in numbers:
            codes = list(
                Event.objects.filter(spool_id=number, code__in=["back", "missing"]).values_list("code", flat=True)
            )
            line = LoadLine.objects.get(load=load, spool_id=number)
            assert codes == [line.settled]
        assert Load.objects.get(id=load.id).closed_at == NOON
        assert rebuild_status(write=False) == []


def test_a_replacement_asked_for_by_several_at_once_is_one(tmp_path):
    (lost,) = make_accepted_ones("214")
    person = everybody_of(lost)
    load = make_load(lost)
    report_missing(load_id=load.id, spool_id=lost.id, reason="gone", person=person, key=make_key(), at=NOON)
    days = [
        [partial(start_replacement, spool_id=lost.id, person=person, key=make_key(), at=NOON)] for _ in range(PEOPLE)
    ]
    with a_real_database(tmp_path) as floor:
        answers = [answer for (answer,) in floor.all_at_once(days)]
        assert sum(isinstance(answer, Spool) for answer in answers) == 1
        assert {answer.code for answer in answers if isinstance(answer, ShopError)} <= {"ended", "busy"}
        assert Spool.objects.filter(tie_in=lost.tie_in, live=True).count() == 1
