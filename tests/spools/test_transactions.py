"""Every key that a deed makes of the caller's own can be stored, and still tells the parts apart."""

import pytest

from spools.actions.count_back import count_back
from spools.actions.deliver import deliver
from spools.actions.load_truck import load_truck
from spools.actions.record_step import Tap, record_step
from spools.actions.report_misfit import report_misfit
from spools.flow.roles import Role
from spools.models import Event
from spools.transactions import LONGEST_KEY, part_key
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_spool, take

SIXTY = "k" * 60  # the longest key that a page or the API takes


def test_a_part_s_key_is_readable_while_it_fits_and_always_fits():
    assert part_key("key-1", "held") == "key-1:held"
    assert len(part_key(SIXTY, "grooved")) == LONGEST_KEY
    assert part_key(SIXTY, "grooved") != part_key(SIXTY, "beveled")


@pytest.mark.django_db
def test_keys_of_sixty_signs_go_through_every_deed_that_writes_several_events():
    spool = make_spool()
    person, other = make_person(spool.shop, *Role), make_person(spool.shop, *Role)
    call = {"person": person, "at": NOON}
    yes = Tap(already=True)
    record_step(spool_id=spool.id, step="welded", key=SIXTY, tap=yes, **call)
    again = record_step(spool_id=spool.id, step="welded", key=SIXTY, tap=yes, **call)
    assert again.repeated
    accepted = Tap(check_mm=spool.check_mm)
    record_step(spool_id=spool.id, step="accepted", person=other, at=NOON, key="a" + SIXTY[1:], tap=accepted)
    load = load_truck(kind="coating", going_to="zinc", spool_ids=[spool.id], key="b" + SIXTY[1:], **call)
    count_back(load_id=load.id, spool_ids=[spool.id], key="c" + SIXTY[1:], **call)
    site = load_truck(kind="site", going_to="site", spool_ids=[spool.id], key="d" + SIXTY[1:], **call)
    deliver(load_id=site.id, spool_ids=[spool.id], key="e" + SIXTY[1:], **call)
    report_misfit(spool_id=spool.id, how="long", reason="", key="f" + SIXTY[1:], **call)
    take(spool.tie_in, CLOSES, again=True, key="g" + SIXTY[1:])
    keys = list(Event.objects.values_list("key", flat=True))
    assert max(map(len, keys)) <= LONGEST_KEY
    assert {"delivered", "misfit", "held"} <= set(Event.objects.values_list("code", flat=True))
