"""A tap by mistake is undone: the bar is as it was before."""

from datetime import timedelta

import pytest

from cutlists.actions.plan_cuts import plan_cuts
from cutlists.actions.undo_cut import undo_cut
from cutlists.models import Cut, StockBar
from spools.actions.undo_event import undo_event
from spools.models import Event, Piece
from tests.cutlists.conftest import cuts_of, refused


@pytest.fixture
def cuts(saw):
    saw.spool()
    saw.spool()
    saw.bars(1)
    return cuts_of(saw.plan())


def undo(saw, cut, **fields):
    return undo_cut(cut_id=cut.id, **saw.call(**fields))


def state_of(bar_id: int) -> tuple:
    bar = StockBar.objects.get(id=bar_id)
    return bar.length_u, bar.used_u, bar.state


def test_the_first_cut_undone_leaves_the_bar_whole_and_reserved(saw, cuts):
    before = state_of(cuts[0].bar_id)
    saw.cut(cuts[0])
    undo(saw, cuts[0])
    assert state_of(cuts[0].bar_id) == before
    cuts[0].refresh_from_db()
    assert (cuts[0].state, cuts[0].done_at, Piece.objects.get(id=cuts[0].piece_id).is_cut) == ("planned", None, False)


def test_a_later_cut_undone_keeps_what_was_cut_before(saw, cuts):
    saw.cut(cuts[0])
    before = state_of(cuts[0].bar_id)
    saw.cut(cuts[1])
    undo(saw, cuts[1])
    assert state_of(cuts[0].bar_id) == before


def test_the_last_cut_undone_takes_its_drop_back(saw, cuts):
    for cut in cuts[:-1]:
        saw.cut(cut)
    before = state_of(cuts[0].bar_id)
    drop = saw.cut(cuts[-1]).drop
    undo(saw, cuts[-1])
    drop.refresh_from_db()
    assert state_of(cuts[0].bar_id) == before
    assert (drop.length_u, drop.state) == (0, "used")
    assert Cut.objects.get(id=cuts[-1].id).plan.state == "open"


def test_a_drop_that_was_planned_meanwhile_stays(saw, cuts):
    for cut in cuts:
        saw.cut(cut)
    spool = saw.spool()
    plan_cuts(spool_ids=[spool.id], seconds=1, **saw.call())
    assert refused(lambda: undo(saw, cuts[-1])).code == "drop_used"
    assert Piece.objects.get(id=cuts[-1].piece_id).is_cut


def test_only_the_newest_cut_of_a_bar_can_be_undone(saw, cuts):
    saw.cut(cuts[0])
    saw.cut(cuts[1])
    assert refused(lambda: undo(saw, cuts[0])).code == "not_newest"


def test_two_pieces_of_one_spool_are_undone_each_by_itself(saw, cuts):
    of_one = [cut for cut in cuts if cut.piece.spool_id == saw.spools[0].id]
    saw.cut(of_one[0])
    saw.cut(of_one[1])
    undo(saw, of_one[1])
    undo(saw, of_one[0])
    assert not Piece.objects.filter(spool=saw.spools[0], is_cut=True).exists()


def test_the_same_key_undoes_once(saw, cuts):
    saw.cut(cuts[0])
    undo(saw, cuts[0], key="key-of-the-undo")
    after = state_of(cuts[0].bar_id)
    undo(saw, cuts[0], key="key-of-the-undo")
    assert state_of(cuts[0].bar_id) == after
    assert Event.objects.filter(code="undone").count() == 1


def test_after_ten_minutes_it_takes_the_foreman_and_a_reason(saw, cuts):
    saw.cut(cuts[0])
    later = saw.at + timedelta(minutes=11)
    assert refused(lambda: undo(saw, cuts[0], at=later)).code == "too_late"
    assert refused(lambda: undo(saw, cuts[0], at=later, person=saw.foreman)).code == "invalid"
    undo(saw, cuts[0], at=later, person=saw.foreman, reason="wrong mark")


def test_a_step_undone_on_the_spool_s_page_gets_its_steel_back_here(saw, cuts):
    before = state_of(cuts[0].bar_id)
    event = saw.cut(cuts[0]).recorded.event
    undo_event(spool_id=cuts[0].piece.spool_id, number=event.number, **saw.call())
    undo(saw, cuts[0])
    assert state_of(cuts[0].bar_id) == before
    assert Cut.objects.get(id=cuts[0].id).state == "planned"


def test_what_is_not_cut_can_not_be_undone(saw, cuts):
    assert refused(lambda: undo(saw, cuts[0])).code == "not_cut"
