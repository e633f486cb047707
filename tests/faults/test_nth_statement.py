"""Every deed is all or nothing: broken off at any statement it leaves nothing behind, and a retry works."""

from collections.abc import Callable
from typing import Any

import pytest

from cutlists.actions.cut_piece import cut_piece
from cutlists.actions.plan_cuts import plan_cuts
from cutlists.actions.receive_bars import receive_bars
from cutlists.models import Cut
from spools.actions.ask_foreman import ask_foreman
from spools.actions.bind_tag import bind_tag
from spools.actions.change_make_up import MakeUp, change_make_up
from spools.actions.check_jig import MasterPosition, check_jig
from spools.actions.correct_heats import correct_heats
from spools.actions.count_back import count_back
from spools.actions.hold_spool import hold_spool
from spools.actions.lay_out import lay_out
from spools.actions.load_truck import load_truck
from spools.actions.put_on_bench import put_on_bench
from spools.actions.put_weld_down import put_weld_down
from spools.actions.record_step import Tap, record_step
from spools.actions.take_reading import take_reading
from spools.actions.undo_event import undo_event
from spools.actions.wrong_cut import wrong_cut
from spools.flow.roles import Role
from spools.flow.tags import tag_number
from spools.models import Bench, Heat, Spool
from spools.queries.lay_outs import ways_to_lay_out
from tests.factories.jobs import make_tie_in
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_key, make_spool
from tests.factories.stock import make_bars
from tests.factories.surveys import SKEWED, bring
from tests.faults.breaking import break_everywhere
from tests.faults.disputes import (
    a_rejected_weld,
    a_second_word_picked,
    a_weld_told_twice,
    an_own_weld_to_do_over,
    foreman_of,
    old_paper_met,
    old_paper_met_and_taken_away,
    welded_spool,
)

pytestmark = pytest.mark.django_db(transaction=True)


def a_step() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    return lambda key: record_step(spool_id=spool.id, step="cut", person=person, key=key, at=NOON)


def a_step_with_what_was_missing() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    return lambda key: record_step(
        spool_id=spool.id, step="welded", person=person, key=key, at=NOON, tap=Tap(already=True)
    )


def a_reading() -> Callable[[str], Any]:
    spool = make_spool()
    tie_in = make_tie_in(spool.tie_in.job, "215")
    set_points = spool.reading.set_points_id
    person = foreman_of(spool)
    return lambda key: take_reading(
        tie_in_id=tie_in.id, set_points_id=set_points, typed=CLOSES, person=person, key=key, at=NOON
    )


def a_reading_that_overtakes() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    return lambda key: take_reading(
        tie_in_id=spool.tie_in_id,
        set_points_id=spool.reading.set_points_id,
        typed=CLOSES,
        person=person,
        key=key,
        at=NOON,
        again=True,
    )


def another_make_up() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    miter = MakeUp(bend_kind="miter", end_a="beveled", end_b="grooved")
    return lambda key: change_make_up(
        tie_in_id=spool.tie_in_id, made=miter, person=person, key=key, at=NOON, reason="no elbow in stock"
    )


def a_layout_of_two_bends() -> Callable[[str], Any]:
    spool = make_spool()
    reading = bring(make_tie_in(spool.tie_in.job, "302", end_b="beveled", measured_to_b="pipe_end"), SKEWED)
    person, code = foreman_of(spool), ways_to_lay_out(reading)[0].code
    return lambda key: lay_out(reading_id=reading.id, code=code, person=person, key=key, at=NOON, reason="as drawn")


def an_undo() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    done = record_step(spool_id=spool.id, step="cut", person=person, key=make_key(), at=NOON).event
    return lambda key: undo_event(spool_id=spool.id, number=done.number, person=person, key=key, at=NOON)


def a_hold() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    return lambda key: hold_spool(spool_id=spool.id, person=person, key=key, at=NOON, reason="no elbow")


def a_bench() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    bench = Bench.objects.create(shop=spool.shop, name="2")
    return lambda key: put_on_bench(spool_id=spool.id, bench_id=bench.id, person=person, key=key, at=NOON)


def a_wrong_cut() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    record_step(spool_id=spool.id, step="cut", person=person, key=make_key(), at=NOON)
    return lambda key: wrong_cut(spool_id=spool.id, piece="A", person=person, key=key, at=NOON, reason="1 in short")


def accepted_spool() -> Spool:
    spool = make_spool()
    record_step(
        spool_id=spool.id, step="welded", person=foreman_of(spool), key=make_key(), at=NOON, tap=Tap(already=True)
    )
    record_step(
        spool_id=spool.id,
        step="accepted",
        person=foreman_of(spool),
        key=make_key(),
        at=NOON,
        tap=Tap(check_mm=spool.check_mm),
    )
    return spool


def a_tag() -> Callable[[str], Any]:
    spool = accepted_spool()
    person = foreman_of(spool)
    return lambda key: bind_tag(spool_id=spool.id, tag=tag_number(214), person=person, key=key, at=NOON)


def a_load() -> Callable[[str], Any]:
    spool = accepted_spool()
    person = foreman_of(spool)
    return lambda key: load_truck(
        kind="coating", going_to="Dunmere Galvanizing", spool_ids=[spool.id], person=person, key=key, at=NOON
    )


def a_count_back() -> Callable[[str], Any]:
    spool = accepted_spool()
    person = foreman_of(spool)
    load = load_truck(kind="coating", going_to="zinc", spool_ids=[spool.id], person=person, key=make_key(), at=NOON)
    return lambda key: count_back(load_id=load.id, spool_ids=[spool.id], person=person, key=key, at=NOON)


def a_jig_check() -> Callable[[str], Any]:
    spool = make_spool()
    person = make_person(spool.shop, Role.FIELD)
    jig = spool.reading.set_points.jig
    off = (MasterPosition(name="long", length_off_mm=2.0, included_off_deg=0.8),)
    return lambda key: check_jig(jig_id=jig.id, positions=off, person=person, key=key, at=NOON)


def some_bars() -> Callable[[str], Any]:
    spool = make_spool()
    person = foreman_of(spool)
    return lambda key: receive_bars(
        nps="6",
        schedule="40",
        material="A53 B",
        lengths_mm=[6400.0, 6410.0],
        nominal_mm=6400.8,
        heat="7K2214",
        person=person,
        key=key,
        at=NOON,
    )


def a_plan() -> Callable[[str], Any]:
    spool = make_spool()
    make_bars(spool.shop)
    person = foreman_of(spool)
    return lambda key: plan_cuts(spool_ids=[spool.id], person=person, key=key, at=NOON, seconds=1)


def a_planned_cut() -> Callable[[str], Any]:
    spool = make_spool()
    make_bars(spool.shop)
    person = foreman_of(spool)
    plan_cuts(spool_ids=[spool.id], person=person, key=make_key(), at=NOON, seconds=1)
    cuts = list(Cut.objects.order_by("order"))
    cut_piece(cut_id=cuts[0].id, person=person, key=make_key(), at=NOON)
    return lambda key: cut_piece(cut_id=cuts[1].id, person=person, key=key, at=NOON)


def an_undo_with_what_stands_on_it() -> Callable[[str], Any]:
    spool = welded_spool()
    person, cut = foreman_of(spool), spool.events.filter(code="cut").first()
    call = {"spool_id": spool.id, "number": cut.number, "person": person, "at": NOON, "reason": "wrong spool"}
    return lambda key: undo_event(key=key, also=True, **call)


def a_weld_put_down_to_another() -> Callable[[str], Any]:
    spool = welded_spool()
    person = make_person(spool.shop, Role.FITTER)
    call = {"spool_id": spool.id, "joint": 1, "welder_id": person.id, "procedure": "WP-14", "person": person}
    return lambda key: put_weld_down(key=key, at=NOON, **call)


def a_heat_of_a_piece_put_right() -> Callable[[str], Any]:
    spool = welded_spool()
    heats = {"A": Heat.objects.create(shop=spool.shop, number="8H1907")}
    call = {"spool_id": spool.id, "heats": heats, "person": foreman_of(spool), "reason": "read again"}
    return lambda key: correct_heats(key=key, at=NOON, **call)


def a_question_to_the_foreman() -> Callable[[str], Any]:
    spool = make_spool()
    call = {"spool_id": spool.id, "person": make_person(spool.shop, Role.FITTER), "at": NOON}
    return lambda key: ask_foreman(key=key, wants="held", reason="no elbow", **call)


DEEDS = [
    a_question_to_the_foreman,
    an_undo_with_what_stands_on_it,
    a_weld_put_down_to_another,
    a_heat_of_a_piece_put_right,
    a_weld_told_twice,
    a_second_word_picked,
    old_paper_met,
    old_paper_met_and_taken_away,
    a_step,
    a_step_with_what_was_missing,
    a_reading,
    a_reading_that_overtakes,
    another_make_up,
    a_layout_of_two_bends,
    an_undo,
    a_hold,
    a_bench,
    a_wrong_cut,
    a_rejected_weld,
    an_own_weld_to_do_over,
    a_tag,
    a_load,
    a_count_back,
    a_jig_check,
    some_bars,
    a_plan,
    a_planned_cut,
]


@pytest.mark.parametrize("prepare", DEEDS, ids=lambda prepare: prepare.__name__)
def test_broken_off_anywhere_it_leaves_nothing_and_can_be_tried_again(prepare, unguarded_after):
    break_everywhere(prepare)
