"""Acceptance against the print, welds by their maker, rejection by name, and what two people tell differently."""

from datetime import timedelta

import pytest

from spools.actions.acceptance import INCLUDED_TOLERANCE_DEG, print_included_deg, tolerance_class
from spools.actions.let_go import let_go
from spools.actions.put_weld_down import put_weld_down
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_weld import Found, reject_weld
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Bench
from spools.queries.welds import made_by, measured_of
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def welder(spool):
    return make_person(spool.shop, Role.FITTER, Role.CUTTER, name="Ruiz")


@pytest.fixture
def other(spool):
    return make_person(spool.shop, Role.FITTER, Role.FOREMAN, name="Banner")


def tap(spool, step, person, key="", at=NOON, **fields):
    recorded = record_step(spool_id=spool.id, step=step, person=person, key=key or make_key(), at=at, tap=Tap(**fields))
    spool.refresh_from_db()
    return recorded


def weld(spool, person, **fields):
    return tap(spool, "welded", person, already=True, **fields)


def refused(call, *args, **fields) -> ShopError:
    with pytest.raises(ShopError) as caught:
        call(*args, **fields)
    return caught.value


def test_the_class_is_that_of_es_3_as_long_as_the_job_asks_no_less():
    # PFI ES-3: 1/8 in up to NPS 10, 3/16 in above; the rows are in geometry/tables/tolerances.csv.
    assert tolerance_class("10", 25.4 / 8) == "PFI ES-3"
    assert tolerance_class("10", 25.4 * 3 / 16) == "the job's own"
    assert tolerance_class("12", 25.4 * 3 / 16) == "PFI ES-3"
    assert tolerance_class("30", 1.0) == "the job's own"  # beyond its table


def test_an_included_angle_off_the_print_asks_for_a_reason(spool, welder, other):
    weld(spool, welder)
    off = {"check_mm": spool.check_mm, "included_deg": print_included_deg(spool) - INCLUDED_TOLERANCE_DEG - 0.3}
    refusal = refused(tap, spool, "accepted", other, **off)
    assert (refusal.code, refusal.words) == ("check_off", "The included angle is 0.8° under.")
    tap(spool, "accepted", other, reason="drain coupling takes it", **off)
    assert spool.accepted_at


def test_what_was_measured_stands_beside_what_the_print_asked(spool, welder, other):
    weld(spool, welder)
    tap(spool, "accepted", other, check_mm=spool.check_mm + 1.0, included_deg=127.6)
    found = measured_of(spool, spool.events.select_related("person"))
    assert found.off_mm == pytest.approx(1.0)
    assert found.off_deg == pytest.approx(0.1)
    assert (found.tolerance_class, found.by) == ("PFI ES-3", "Banner")


def test_a_weld_stands_for_whoever_tapped_it_until_one_is_put_down_to_another(spool, welder, other):
    weld(spool, welder, procedure="WP-3")
    call = {"spool_id": spool.id, "person": other, "key": make_key(), "at": NOON}
    put_weld_down(joint=2, welder_id=other.id, procedure="WP-14", **call)
    assert made_by(spool.events.all()) == {1: (welder.id, "WP-3"), 2: (other.id, "WP-14")}


@pytest.mark.parametrize(("joint", "role"), [(9, Role.FITTER), (1, Role.DRIVER)])
def test_a_weld_that_is_not_there_or_a_driver_is_refused(spool, welder, other, joint, role):
    weld(spool, welder)
    by = make_person(spool.shop, role)
    call = {"spool_id": spool.id, "person": other, "key": make_key(), "at": NOON}
    assert refused(put_weld_down, joint=joint, welder_id=by.id, procedure="", **call).code == "invalid"


def reject(spool, person, **fields):
    call = {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON, "reason": ""}
    recorded = reject_weld(**(call | fields))
    spool.refresh_from_db()
    return recorded.event


def test_a_rejection_names_the_weld_and_the_defect_and_counts_the_attempt(spool, welder, other):
    weld(spool, welder)
    event = reject(spool, other, found=Found(joint=1, defect="porosity"), reason="cluster at the throat")
    assert event.reason == "weld 1 porosity: cluster at the throat"
    assert event.details["attempt"] == spool.the_standing.attempts == 2
    assert spool.next_step == "welded"
    weld(spool, welder)
    assert reject(spool, other, found=Found(defect="crack")).details["attempt"] == 3


@pytest.mark.parametrize("found", [Found(joint=7, defect="crack"), Found(defect="rust on it")])
def test_a_weld_or_a_defect_that_is_not_on_the_list_is_refused(spool, welder, other, found):
    weld(spool, welder)
    assert refused(reject, spool, other, found=found).code == "invalid"
    assert not spool.events.filter(code="rejected").exists()


def benches(spool):
    return [Bench.objects.create(shop=spool.shop, name=name).id for name in ("1", "2")]


def test_two_benches_that_both_tell_a_weld_stop_the_spool_for_the_foreman(spool, welder, other):
    one, two = benches(spool)
    weld(spool, welder, bench_id=one)
    second = weld(spool, other, bench_id=two, key="second-tap")
    assert second.repeated
    assert second.words.startswith("already welded by Ruiz 09:00; on bench 1 by Ruiz and on bench 2 by Banner")
    (hold,) = spool.the_standing.holds
    assert hold.owner == "foreman"
    assert spool.events.filter(code="welded").count() == 1
    again = weld(spool, other, bench_id=two, key="second-tap")  # its answer was lost
    assert again.words == second.words
    assert spool.hold_count == 1
    let_go(spool_id=spool.id, person=other, key=make_key(), at=NOON, reason="bench 1 it was")
    spool.refresh_from_db()
    assert spool.hold_count == 0


def test_two_lengths_of_c_are_told_twice_and_one_tape_read_twice_is_not(spool, welder, other):
    third = make_person(spool.shop, Role.FITTER)
    weld(spool, welder)
    tap(spool, "accepted", other, check_mm=spool.check_mm)
    tap(spool, "accepted", third, check_mm=spool.check_mm + 1.0)
    assert spool.hold_count == 0
    words = tap(spool, "accepted", third, check_mm=spool.check_mm + 3.0).words
    assert "by Banner and" in words
    assert spool.hold_count == 1


def test_the_second_who_says_the_same_is_only_told_who_was_first(spool, welder, other):
    one, _ = benches(spool)
    weld(spool, welder, bench_id=one)
    told = weld(spool, other, bench_id=one, at=NOON + timedelta(days=1))
    assert told.words == "already welded by Ruiz Tue 24 Nov 09:00"
    assert spool.hold_count == 0
