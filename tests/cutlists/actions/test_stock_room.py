"""In the rack: bars are counted, moved, scrapped; legs of builds that have ended come back."""

import pytest

from cutlists.actions.count_bar import count_bar
from cutlists.actions.cut_from import cut_from
from cutlists.actions.return_piece import return_piece
from cutlists.actions.scrap_bar import scrap_bar
from cutlists.models import StockBar, StockEvent
from cutlists.saving import kept_pieces
from spools.actions.scrap_spool import scrap_spool
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of, refused


def test_counted_as_recorded_it_is_only_noted(saw):
    (bar,) = saw.bars(1)
    count_bar(bar_id=bar.id, length_mm=bar.length_mm, **saw.call())
    event = bar.events.get(kind="counted")
    assert (event.length_u, StockBar.objects.get().length_u) == (0, bar.length_u)


def test_another_length_needs_a_reason(saw):
    (bar,) = saw.bars(1)
    assert list(refused(lambda: count_bar(bar_id=bar.id, length_mm=6000.0, **saw.call())).fields) == ["reason"]
    count_bar(bar_id=bar.id, length_mm=6000.0, reason="measured", **saw.call())
    assert StockBar.objects.get().length_mm == 6000.0
    assert complaints(saw.shop) == []


def test_moved_to_another_rack(saw):
    (bar,) = saw.bars(1, rack="R1")
    count_bar(bar_id=bar.id, rack="R4", **saw.call())
    event = bar.events.get(kind="moved")
    assert (StockBar.objects.get().rack, event.details) == ("R4", {"rack": "R4", "from": "R1"})


def test_a_bar_in_a_plan_is_left_alone(saw):
    saw.spool()
    (bar,) = saw.bars(1)
    saw.plan()
    assert refused(lambda: count_bar(bar_id=bar.id, length_mm=6000.0, reason="x", **saw.call())).code == "in_use"
    assert refused(lambda: scrap_bar(bar_id=bar.id, reason="pitted", **saw.call())).code == "in_use"


def test_scrapped_with_a_reason_once(saw):
    (bar,) = saw.bars(1)
    assert list(refused(lambda: scrap_bar(bar_id=bar.id, reason=" ", **saw.call())).fields) == ["reason"]
    for _ in range(2):
        scrap_bar(bar_id=bar.id, reason="pitted", **saw.call(key="key-of-the-bin"))
    bar.refresh_from_db()
    assert (bar.state, bar.length_u, bar.events.filter(kind="scrapped").count()) == ("scrapped", 0, 1)


@pytest.fixture
def ended(saw):
    spool = saw.spool()
    saw.bars(1, heat="7K2214")
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    scrap_spool(spool_id=spool.id, reason="inlet gone", **saw.call(saw.foreman))
    return spool


def test_a_leg_comes_back_with_its_heat(saw, ended):
    leg = ended.pieces.get(mark="A")
    bar = return_piece(piece_id=leg.id, usable_mm=700.0, rack="D1", **saw.call())
    assert (bar.length_mm, bar.heat.number, bar.is_drop, bar.rack) == (700.0, "7K2214", True, "D1")
    assert kept_pieces(saw.cutter) == [bar]
    assert complaints(saw.shop) == []


def test_it_comes_back_once_and_never_longer_than_it_was(saw, ended):
    leg = ended.pieces.get(mark="A")
    assert list(refused(lambda: return_piece(piece_id=leg.id, usable_mm=leg.stock_mm + 1, **saw.call())).fields) == [
        "usable"
    ]
    first = return_piece(piece_id=leg.id, usable_mm=700.0, **saw.call(key="key-of-the-leg"))
    assert return_piece(piece_id=leg.id, usable_mm=700.0, **saw.call(key="key-of-the-leg")) == first
    assert refused(lambda: return_piece(piece_id=leg.id, usable_mm=700.0, **saw.call())).code == "returned"


def test_a_leg_that_is_still_needed_stays_with_its_spool(saw):
    spool = saw.spool()
    saw.bars(1)
    for cut in cuts_of(saw.plan()):
        saw.cut(cut)
    leg = spool.pieces.get(mark="A")
    assert refused(lambda: return_piece(piece_id=leg.id, usable_mm=500.0, **saw.call())).code == "still_needed"


def test_a_returned_leg_serves_another_spool(saw, ended):
    leg = ended.pieces.get(mark="A")
    bar = return_piece(piece_id=leg.id, usable_mm=700.0, **saw.call())
    other = saw.spool()
    cut = cut_from(piece_id=other.pieces.get(mark="B").id, bar_id=bar.id, **saw.call())
    assert (cut.plan.new_stock_u, cut.plan.proven) == (0, True)
    saw.cut(cut)
    assert StockEvent.objects.filter(kind="returned").count() == 1
    assert complaints(saw.shop) == []


def test_a_length_too_short_or_of_other_pipe_is_refused(saw, ended):
    bar = return_piece(piece_id=ended.pieces.get(mark="B").id, usable_mm=450.0, **saw.call())
    other, big = saw.spool(), saw.spool(nps="8")
    long_piece = other.pieces.get(mark="A").id
    assert refused(lambda: cut_from(piece_id=long_piece, bar_id=bar.id, **saw.call())).code == "too_short"
    assert (
        refused(lambda: cut_from(piece_id=big.pieces.get(mark="B").id, bar_id=bar.id, **saw.call())).code
        == "other_pipe"
    )
