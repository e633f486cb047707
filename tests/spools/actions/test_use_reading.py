"""Two people differ: the foreman sees both side by side, C speaks, and he says which one is built."""

from dataclasses import replace

import pytest

from spools.actions.record_step import record_step
from spools.actions.take_reading import Seen
from spools.actions.use_reading import use_reading
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Spool
from spools.queries.second import pair_of
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON, make_key, take

pytestmark = pytest.mark.django_db
BURN_LEFT_IN = replace(CLOSES, leg_a="40 1/8")


@pytest.fixture
def tie_in():
    return make_tie_in(make_job(make_shop()))


@pytest.fixture
def foreman(tie_in):
    return make_person(tie_in.job.shop, Role.FOREMAN, Role.FIELD)


def take_second(tie_in, typed):
    tie_in.refresh_from_db()
    return take(tie_in, typed, keep_anyway=True, seen=Seen(revision=1, as_second=True)).reading


def use(reading, person, **news):
    given = {"key": make_key(), "at": NOON, "reason": "C bears it out"} | news
    return use_reading(reading_id=reading.id, person=person, **given)


def test_the_second_one_is_built_where_the_first_did_not_close(tie_in, foreman):
    first = take(tie_in, BURN_LEFT_IN, keep_anyway=True)
    assert first.spool is None
    second = take_second(tie_in, CLOSES)
    assert pair_of(second).arbiter == "C speaks for reading B: it closes, A does not."
    reading, spool = use(second, foreman)
    tie_in.refresh_from_db()
    assert (reading, tie_in.current_reading_id, spool.reading_id) == (second, second.id, second.id)


def test_a_spool_not_cut_yet_is_replaced_and_keeps_its_clock(tie_in, foreman):
    wrong = replace(CLOSES, leg_a="37 1/8", closing="54")
    first = take(tie_in, wrong, keep_anyway=True)
    assert first.spool
    second = take_second(tie_in, CLOSES)
    _, spool = use(second, foreman)
    first.spool.refresh_from_db()
    assert (first.spool.live, spool.live, spool.build) == (False, True, 2)
    assert spool.clock_start_at == first.spool.clock_start_at


def test_a_spool_that_is_cut_is_held_with_the_reason(tie_in, foreman):
    first = take(tie_in, replace(CLOSES, leg_a="37 1/8", closing="54"), keep_anyway=True)
    cutter = make_person(tie_in.job.shop, Role.CUTTER, Role.FOREMAN)
    record_step(spool_id=first.spool.id, step="cut", person=cutter, key=make_key(), at=NOON)
    _, spool = use(take_second(tie_in, CLOSES), foreman)
    held = Spool.objects.get(id=first.spool.id).the_standing.holds
    assert spool is None
    assert any("new reading B (C bears it out) after cutting began" in hold.reason for hold in held)


def test_used_twice_it_is_used_once(tie_in, foreman):
    take(tie_in, BURN_LEFT_IN, keep_anyway=True)
    second = take_second(tie_in, CLOSES)
    assert use(second, foreman)[1] == use(second, foreman)[1]
    assert Spool.objects.filter(tie_in=tie_in).count() == 1


def test_only_the_foreman_says_so_and_says_why(tie_in, foreman):
    take(tie_in, BURN_LEFT_IN, keep_anyway=True)
    second = take_second(tie_in, CLOSES)
    for person, news, code in (
        (make_person(tie_in.job.shop, Role.FIELD), {}, "not_your_role"),
        (foreman, {"reason": " "}, "invalid"),
        (make_person(make_shop("Other"), Role.FOREMAN), {}, "not_found"),
    ):
        with pytest.raises(ShopError) as refusal:
            use(second, person, **news)
        assert refusal.value.code == code


def test_a_paper_line_keyed_by_two_people_is_compared_on_the_page(client, tie_in, foreman):
    first = take(tie_in)
    client.force_login(foreman)
    typed = {"leg_a": "36 1/8", "leg_b": "26 9/16", "included": "127.5", "closing": "53"}
    body = typed | {
        "measured_to_a": "pipe_end",
        "measured_to_b": "pipe_end",
        "set_points": first.reading.set_points_id,
        "key": "key-of-typing",
    }
    address = f"/field/{tie_in.id}/"
    assert "Second person, to compare" in client.post(address, body).content.decode()
    shown = client.post(address, body | {"as_second": "yes", "keep_anyway": "yes"}, follow=True).content.decode()
    assert "differs from the first" in shown
    assert "C speaks for reading A: it closes, B does not." in shown
    assert "Use reading B" in shown
