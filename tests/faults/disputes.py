"""Situations of the check and of two people's words, each with the deed that is broken off in the middle."""

from collections.abc import Callable
from typing import Any

from spools.actions.old_paper import meet_old_paper, take_paper_away
from spools.actions.pick_told import pick_told
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_weld import Found, reject_weld
from spools.actions.scrap_spool import scrap_spool
from spools.actions.weld_again import weld_again
from spools.flow.roles import Role
from spools.models import Bench, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool


def foreman_of(spool: Spool):
    return make_person(spool.shop, Role.FOREMAN, Role.CUTTER)


def welded_spool() -> Spool:
    spool = make_spool()
    call = {"person": make_person(spool.shop, Role.FITTER, Role.CUTTER), "key": make_key(), "at": NOON}
    record_step(spool_id=spool.id, step="welded", tap=Tap(already=True), **call)
    return spool


def a_rejected_weld() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    record_step(spool_id=spool.id, step="welded", person=person, key=make_key(), at=NOON, tap=Tap(already=True))
    checker = make_person(spool.shop, Role.FITTER)
    return lambda key: reject_weld(spool_id=spool.id, person=checker, key=key, at=NOON, reason="undercut at weld 1")


def an_own_weld_to_do_over() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    record_step(spool_id=spool.id, step="welded", person=person, key=make_key(), at=NOON, tap=Tap(already=True))
    return lambda key: weld_again(
        spool_id=spool.id, person=person, key=key, at=NOON, found=Found(joint=1, defect="porosity")
    )


def a_weld_told_twice() -> Callable[[str], Any]:
    spool = welded_spool()
    one, two = (Bench.objects.create(shop=spool.shop, name=name) for name in "12")
    again = make_spool("301", job=spool.tie_in.job)
    tap = Tap(already=True, bench_id=one.id)
    record_step(spool_id=again.id, step="welded", person=foreman_of(again), key=make_key(), at=NOON, tap=tap)
    person, other = foreman_of(spool), Tap(bench_id=two.id)
    return lambda key: record_step(spool_id=again.id, step="welded", person=person, key=key, at=NOON, tap=other)


def a_second_word_picked() -> Callable[[str], Any]:
    spool = make_spool()
    for name in "12":
        person = make_person(spool.shop, *Role)
        tap = Tap(already=True, bench_id=Bench.objects.create(shop=spool.shop, name=name).id)
        record_step(spool_id=spool.id, step="welded", person=person, key=make_key(), at=NOON, tap=tap)
    hold = spool.events.get(code="held").number
    foreman = foreman_of(spool)
    return lambda key: pick_told(spool_id=spool.id, hold=hold, which="second", person=foreman, key=key, at=NOON)


def old_paper_met() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    scrap_spool(spool_id=spool.id, person=person, key=make_key(), at=NOON, reason="bent")
    return lambda key: meet_old_paper(spool_id=spool.id, person=person, key=key, at=NOON, where="scanned")


def old_paper_met_and_taken_away() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    scrap_spool(spool_id=spool.id, person=person, key=make_key(), at=NOON, reason="bent")
    meet_old_paper(spool_id=spool.id, person=person, key=make_key(), at=NOON, where="scanned")
    return lambda key: take_paper_away(spool_id=spool.id, person=person, key=key, at=NOON)
