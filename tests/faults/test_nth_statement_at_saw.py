"""Every deed at the saw and in the rack is all or nothing, as the others are."""

from collections.abc import Callable
from typing import Any

import pytest

from cutlists.actions.bar_short import bar_short
from cutlists.actions.correct_heat import correct_heat
from cutlists.actions.count_bar import count_bar
from cutlists.actions.cut_from import cut_from
from cutlists.actions.cut_piece import cut_piece
from cutlists.actions.plan_cuts import plan_cuts
from cutlists.actions.replan import replan
from cutlists.actions.return_piece import return_piece
from cutlists.actions.scrap_bar import scrap_bar
from cutlists.actions.skip_cut import skip_cut
from cutlists.actions.start_bar import start_bar
from cutlists.actions.take_out import call_off_plan, take_out
from cutlists.actions.undo_cut import undo_cut
from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.models import Cut
from spools.actions.scrap_spool import scrap_spool
from spools.models import Spool
from tests.factories.spools import NOON, make_key, make_spool
from tests.factories.stock import make_bars
from tests.faults.breaking import break_everywhere
from tests.faults.test_nth_statement import foreman_of

pytestmark = pytest.mark.django_db(transaction=True)


def planned_shop(spools: int = 2):
    """Spools planned on bars, and the person who cuts them."""
    spool = make_spool()
    for number in range(1, spools):
        make_spool(str(214 + number), job=spool.tie_in.job)
    make_bars(spool.shop, 3)
    person = foreman_of(spool)
    ids = list(Spool.objects.filter(shop=spool.shop).values_list("id", flat=True))
    plan_cuts(spool_ids=ids, person=person, key=make_key(), at=NOON, seconds=1)
    return person, list(Cut.objects.order_by("bar_order", "order"))


def the_last_cut_of_a_bar() -> Callable[[str], Any]:
    person, cuts = planned_shop(1)
    cut_piece(cut_id=cuts[0].id, person=person, key=make_key(), at=NOON)
    return lambda key: cut_piece(cut_id=cuts[1].id, person=person, key=key, at=NOON)


def a_cut_undone_with_its_drop() -> Callable[[str], Any]:
    person, cuts = planned_shop(1)
    for cut in cuts:
        cut_piece(cut_id=cut.id, person=person, key=make_key(), at=NOON)
    return lambda key: undo_cut(cut_id=cuts[-1].id, person=person, key=key, at=NOON)


def a_wrong_cut_at_the_saw() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    call = {"cut_id": cuts[0].id, "person": person, "at": NOON, "reason": "stop slipped", "real_mm": 600.0}
    return lambda key: wrong_at_saw(key=key, **call)


def a_short_bar() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    return lambda key: bar_short(bar_id=cuts[0].bar_id, usable_mm=1500.0, person=person, key=key, at=NOON)


def a_rest_planned_again() -> Callable[[str], Any]:
    person, cuts = planned_shop(1)
    make_bars(person.shop, 1, lengths_mm=[1600.0], nominal_mm=0)
    return lambda key: replan(plan_id=cuts[0].plan_id, person=person, key=key, at=NOON, seconds=1)


def a_plan_called_off() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    cut_piece(cut_id=cuts[0].id, person=person, key=make_key(), at=NOON)
    return lambda key: call_off_plan(plan_id=cuts[0].plan_id, person=person, key=key, at=NOON)


def a_cut_taken_out() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    return lambda key: take_out(cut_id=cuts[0].id, person=person, key=key, at=NOON)


def a_cut_skipped() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    return lambda key: skip_cut(cut_id=cuts[0].id, person=person, key=key, at=NOON)


def a_bar_laid_on() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    return lambda key: start_bar(bar_id=cuts[0].bar_id, heat="7K2260", person=person, key=key, at=NOON)


def a_bar_scrapped() -> Callable[[str], Any]:
    spool = make_spool()
    (bar,) = make_bars(spool.shop, 1)
    person = foreman_of(spool)
    return lambda key: scrap_bar(bar_id=bar.id, person=person, key=key, at=NOON, reason="pitted")


def a_bar_counted() -> Callable[[str], Any]:
    spool = make_spool()
    (bar,) = make_bars(spool.shop, 1)
    person = foreman_of(spool)
    call = {"bar_id": bar.id, "length_mm": 6000.0, "rack": "R2", "reason": "measured", "person": person, "at": NOON}
    return lambda key: count_bar(key=key, **call)


def a_piece_saved() -> Callable[[str], Any]:
    person, cuts = planned_shop()
    (drop,) = make_bars(person.shop, 1, lengths_mm=[1500.0], nominal_mm=0)
    return lambda key: cut_from(piece_id=cuts[0].piece_id, bar_id=drop.id, person=person, key=key, at=NOON)


def a_leg_returned() -> Callable[[str], Any]:
    person, cuts = planned_shop(1)
    for cut in cuts:
        cut_piece(cut_id=cut.id, person=person, key=make_key(), at=NOON)
    spool_id, piece_id = cuts[0].piece.spool_id, cuts[0].piece_id
    scrap_spool(spool_id=spool_id, person=person, key=make_key(), at=NOON, reason="inlet gone")
    return lambda key: return_piece(piece_id=piece_id, usable_mm=500.0, person=person, key=key, at=NOON)


def a_heat_put_right() -> Callable[[str], Any]:
    person, cuts = planned_shop(1)
    for cut in cuts:
        cut_piece(cut_id=cut.id, person=person, key=make_key(), at=NOON)
    bar_id = cuts[0].bar_id
    return lambda key: correct_heat(bar_id=bar_id, heat="8H1907", reason="read again", person=person, key=key, at=NOON)


DEEDS = [
    a_heat_put_right,
    the_last_cut_of_a_bar,
    a_cut_undone_with_its_drop,
    a_wrong_cut_at_the_saw,
    a_short_bar,
    a_rest_planned_again,
    a_plan_called_off,
    a_cut_taken_out,
    a_cut_skipped,
    a_bar_laid_on,
    a_bar_scrapped,
    a_bar_counted,
    a_piece_saved,
    a_leg_returned,
]


@pytest.mark.parametrize("prepare", DEEDS, ids=lambda prepare: prepare.__name__)
def test_broken_off_anywhere_it_leaves_nothing_and_can_be_tried_again(prepare, unguarded_after):
    break_everywhere(prepare)
