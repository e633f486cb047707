"""What a tap at a bench is answered, as the tablet reads it: kept, first, asked with both answers, or refused."""

import pytest

from spools.actions.record_step import record_step
from spools.flow.roles import Role
from spools.models import Bench
from tests.factories.spools import NOON, make_key


@pytest.fixture
def bench(spool):
    return Bench.objects.create(shop=spool.shop, name="1")


def tap(client, bench, spool, **form):
    form = {"key": make_key() + "-tapped", "spool": spool.id} | form
    answer = client.post(f"/benches/{bench.id}/tap/", form, headers={"Accept": "application/json"})
    return answer.status_code, answer.json()


def test_a_tap_out_of_order_is_asked_with_its_two_answers(spool, bench, sign_in):
    client = sign_in(Role.CUTTER, Role.FITTER)
    record_step(spool_id=spool.id, step="cut", person=client.person, key=make_key(), at=NOON)
    record_step(spool_id=spool.id, step="beveled", person=client.person, key=make_key(), at=NOON)
    status, said = tap(client, bench, spool, step="welded")
    assert (status, said["state"], said["words"]) == (409, "asks", "Leg B has no groove.")
    assert (said["yes"], said["no"]) == ("Grooved already", "Not yet")
    assert tap(client, bench, spool, step="welded", already="yes")[1]["state"] == "kept"


def test_an_undo_with_something_on_it_is_asked_and_yes_takes_both_back(spool, bench, sign_in):
    client = sign_in(Role.CUTTER, Role.FITTER)
    for step in ("cut", "grooved"):
        assert tap(client, bench, spool, step=step)[1]["state"] == "kept"
    number = spool.events.get(code="cut").number
    status, said = tap(client, bench, spool, undo=number)
    assert (status, said["state"], said["code"]) == (409, "asks", "depends")
    assert said["words"] == "It has since been grooved."
    assert said["yes"] == "Undo that too"
    status, said = tap(client, bench, spool, undo=number, also="yes")
    assert (status, said["state"]) == (200, "kept")
    spool.refresh_from_db()
    assert spool.next_step == "cut"


def test_an_included_angle_that_is_none_is_asked_back(spool, bench, sign_in):
    client = sign_in(Role.CUTTER, Role.FITTER)
    tap(client, bench, spool, step="welded", already="yes")
    other = sign_in(Role.FITTER)
    status, said = tap(other, bench, spool, step="accepted", check="53", included="about 127")
    assert (status, said["state"]) == (422, "refused")
    assert "included" in said["fields"]
    assert not spool.events.filter(code="accepted").exists()
