"""Small taps at the saw: a bar is laid on with its heat, a piece is skipped, or taken out."""

import pytest

from cutlists.actions.skip_cut import skip_cut
from cutlists.actions.start_bar import start_bar
from cutlists.actions.take_out import take_out
from cutlists.actions.trim_elbow import trim_elbow
from cutlists.models import StockBar
from spools.models import Piece
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of, refused


@pytest.fixture
def plan(saw):
    saw.spool()
    saw.spool()
    saw.bars(1, heat="")
    return saw.plan()


def test_the_heat_typed_once_is_on_every_piece_of_the_bar(saw, plan):
    cuts = cuts_of(plan)
    start_bar(bar_id=cuts[0].bar_id, heat="7k2214", **saw.call())
    for cut in cuts:
        saw.cut(cut)
    heats = set(Piece.objects.filter(sawn=True).values_list("heat__number", flat=True))
    assert heats == {"7K2214"}


def test_a_started_bar_is_trimmed_with_its_first_cut_only(saw, plan):
    cuts = cuts_of(plan)
    start_bar(bar_id=cuts[0].bar_id, heat="7K2214", **saw.call())
    assert StockBar.objects.get(id=cuts[0].bar_id).used_u == 0
    saw.cut(cuts[0])
    saw.cut(cuts[1])
    assert StockBar.objects.get(id=cuts[0].bar_id).events.filter(kind="trimmed").count() == 1


def test_a_heat_can_not_be_changed_under_pieces_that_carry_it(saw, plan):
    cuts = cuts_of(plan)
    start_bar(bar_id=cuts[0].bar_id, heat="7K2214", **saw.call())
    saw.cut(cuts[0])
    refusal = refused(lambda: start_bar(bar_id=cuts[0].bar_id, heat="7K2215", **saw.call()))
    assert refusal.code == "heat_cut"


def test_only_a_planned_bar_is_laid_on(saw, plan):
    (bar,) = saw.bars(1)
    assert refused(lambda: start_bar(bar_id=bar.id, **saw.call())).code == "not_planned"


def test_a_skipped_piece_comes_last_and_the_others_move_up(saw, plan):
    first, second = cuts_of(plan)[:2]
    skip_cut(cut_id=first.id, **saw.call())
    now = cuts_of(plan)
    assert (now[0].id, now[0].position_u) == (second.id, plan.trim_u)
    assert now[-1].id == first.id
    assert complaints(saw.shop) == []


def test_the_last_piece_can_not_be_skipped(saw, plan):
    cuts = cuts_of(plan)
    for cut in cuts[:-1]:
        saw.cut(cut)
    assert refused(lambda: skip_cut(cut_id=cuts[-1].id, **saw.call())).code == "last"


def test_a_skip_repeated_by_its_key_moves_once(saw, plan):
    first, second = cuts_of(plan)[:2]
    for _ in range(2):
        skip_cut(cut_id=first.id, **saw.call(key="key-of-the-skip"))
    assert cuts_of(plan)[0].id == second.id


def test_a_piece_taken_out_waits_for_a_plan_and_the_bar_keeps_the_length(saw, plan):
    first = cuts_of(plan)[0]
    take_out(cut_id=first.id, **saw.call())
    assert len(cuts_of(plan)) == 3
    saw.bars(1)
    assert [cut.piece for cut in cuts_of(saw.plan())] == [first.piece]
    assert complaints(saw.shop) == []


def test_the_last_piece_taken_out_lets_the_bar_go(saw, plan):
    for cut in cuts_of(plan):
        take_out(cut_id=cut.id, **saw.call())
    plan.refresh_from_db()
    assert (StockBar.objects.get().state, plan.state) == ("in_stock", "withdrawn")


def test_an_elbow_is_trimmed_with_its_own_heat(saw, plan):
    elbow = Piece.objects.filter(kind="elbow").first()
    trim_elbow(piece_id=elbow.id, heat="E6-40417", **saw.call())
    elbow.refresh_from_db()
    assert (elbow.is_cut, elbow.heat.number) == (True, "E6-40417")


def test_pipe_is_not_an_elbow(saw, plan):
    assert refused(lambda: trim_elbow(piece_id=cuts_of(plan)[0].piece_id, **saw.call())).code == "not_found"
