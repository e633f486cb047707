"""A welder takes the own weld back before the check; judging it is for somebody else."""

import pytest

from spools.actions.put_weld_down import put_weld_down
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_weld import Found, reject_weld
from spools.actions.undo_event import undo_event
from spools.actions.weld_again import weld_again
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Bench
from spools.queries.bench import hands_of
from spools.queries.promise_scope import Scope
from spools.queries.spool_facts import facts_of
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db
BAD = Found(joint=1, defect="porosity")


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def welder(spool):
    return make_person(spool.shop, Role.FITTER, Role.CUTTER, name="Ruiz")


@pytest.fixture
def other(spool):
    return make_person(spool.shop, Role.FITTER, Role.FOREMAN, name="Banner")


def call(spool, person, **fields):
    return {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON} | fields


def tap(spool, step, person, **fields):
    record_step(step=step, tap=Tap(already=True, **fields), **call(spool, person))
    spool.refresh_from_db()


def back(spool, person, **fields):
    recorded = weld_again(**call(spool, person, found=BAD) | fields)
    spool.refresh_from_db()
    return recorded.event


def defects_of(spool) -> int:
    """What the turnaround figures count against first time right."""
    job = spool.tie_in.job
    (facts,) = facts_of(Scope(jobs=(job,), chosen=job, since=None), taps=True)
    return facts.defects


def refused(deed, **fields) -> ShopError:
    with pytest.raises(ShopError) as caught:
        deed(**fields)
    return caught.value


def test_the_welder_takes_the_own_weld_back_and_what_was_wrong_stands_in_the_story(spool, welder):
    tap(spool, "welded", welder)
    assert back(spool, welder, reason="wind got at it").reason == "weld 1 porosity: wind got at it"
    assert (spool.next_step, spool.status) == ("welded", "beveled")


def test_it_counts_neither_as_an_attempt_nor_against_first_time_right(spool, welder, other):
    tap(spool, "welded", welder)
    back(spool, welder)
    tap(spool, "welded", welder)
    tap(spool, "accepted", other, check_mm=spool.check_mm)
    assert spool.the_standing.attempts == 1
    assert defects_of(spool) == 0


def test_what_a_second_person_rejects_counts_for_both(spool, welder, other):
    tap(spool, "welded", welder)
    reject_weld(reason="", found=BAD, **call(spool, other))
    spool.refresh_from_db()
    assert spool.the_standing.attempts == 2
    assert defects_of(spool) == 1


def test_nobody_rejects_the_own_weld_a_foreman_neither(spool, other):
    tap(spool, "welded", other)
    trouble = refused(reject_weld, reason="", found=BAD, **call(spool, other))
    assert trouble.code == "same_person"
    assert "do it over" in trouble.what_to_do
    assert spool.events.filter(code="rejected").count() == 0


def test_who_made_one_of_the_welds_neither_accepts_nor_rejects_the_spool(spool, welder, other):
    tap(spool, "welded", welder)
    put_weld_down(joint=2, welder_id=other.id, procedure="", **call(spool, welder))
    measured = Tap(check_mm=spool.check_mm)
    assert refused(record_step, step="accepted", tap=measured, **call(spool, other)).code == "same_person"
    assert refused(reject_weld, reason="", found=BAD, **call(spool, other)).code == "same_person"
    assert back(spool, other).code == "weld_again"


def test_a_weld_done_over_by_another_is_accepted_by_the_first(spool, welder, other):
    tap(spool, "welded", welder)
    back(spool, welder)
    tap(spool, "welded", other)
    tap(spool, "accepted", welder, check_mm=spool.check_mm)
    assert spool.accepted_at


def test_somebody_elses_weld_is_not_taken_back(spool, welder, other):
    tap(spool, "welded", welder)
    assert refused(weld_again, found=BAD, **call(spool, other)).code == "not_own_weld"


def test_after_the_check_the_foreman_is_asked(spool, welder, other):
    tap(spool, "welded", welder)
    tap(spool, "accepted", other, check_mm=spool.check_mm)
    trouble = refused(weld_again, found=BAD, **call(spool, welder))
    assert (trouble.code, "Ask the foreman" in trouble.what_to_do) == ("accepted", True)


@pytest.mark.parametrize("found", [Found(joint=9, defect="crack"), Found(joint=1), Found(defect="rust on it")])
def test_a_weld_that_is_not_there_or_a_defect_without_a_name_is_refused(spool, welder, found):
    tap(spool, "welded", welder)
    assert refused(weld_again, **call(spool, welder, found=found)).code == "invalid"


def test_a_slip_is_undone_and_the_weld_stands_again(spool, welder):
    tap(spool, "welded", welder)
    event = back(spool, welder)
    undo_event(number=event.number, **call(spool, welder))
    spool.refresh_from_db()
    assert spool.next_step == "accepted"


def test_the_bench_says_what_is_to_do_over(spool, welder):
    bench = Bench.objects.create(shop=spool.shop, name="1")
    tap(spool, "welded", welder)
    back(spool, welder)
    (hand,) = hands_of(bench, [], welder, chosen=spool.id)
    assert (hand.to_do_over, hand.sent_back) == (True, "weld 1 porosity")
