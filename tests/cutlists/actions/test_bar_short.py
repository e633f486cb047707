"""BAR IS SHORT: the length is put right, only that bar's uncut pieces move."""

import pytest

from cutlists.actions.bar_short import bar_short
from cutlists.actions.scrap_bar import scrap_bar
from cutlists.models import Cut, StockBar, StockEvent
from cutlists.units import PER_MM
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of, refused


@pytest.fixture
def plan(saw):
    for _ in range(6):
        saw.spool()
    saw.bars(3)
    return saw.plan()


def short(saw, bar_id, usable_mm, **fields):
    return bar_short(bar_id=bar_id, usable_mm=usable_mm, **saw.call(**fields))


def test_pieces_that_no_longer_fit_go_to_other_bars(saw, plan):
    first = cuts_of(plan)[0]
    short(saw, first.bar_id, 2500.0)
    bar = StockBar.objects.get(id=first.bar_id)
    assert bar.length_mm == 2500.0
    assert len(cuts_of(plan)) == 12
    assert complaints(saw.shop) == []


def test_what_moved_is_flagged_and_what_stayed_is_not(saw, plan):
    first = cuts_of(plan)[0]
    before = {cut.piece_id: cut.bar_id for cut in cuts_of(plan)}
    short(saw, first.bar_id, 2500.0)
    for cut in cuts_of(plan):
        assert (cut.moved_at is not None) == (cut.bar_id != before[cut.piece_id])


def test_what_is_cut_stays_and_the_rest_of_the_bar_goes_on_behind_it(saw, plan):
    first, second = cuts_of(plan)[:2]
    saw.cut(first)
    before = Cut.objects.filter(id=first.id).values().get()
    bar = StockBar.objects.get(id=first.bar_id)
    short(saw, bar.id, bar.length_mm - 200)
    assert Cut.objects.filter(id=first.id).values().get() == before
    bar.refresh_from_db()
    planned = Cut.objects.filter(bar=bar, state="planned").order_by("order")
    assert planned[0].position_u == bar.used_u
    assert complaints(saw.shop) == []
    assert second.bar_id == bar.id


def test_the_tape_still_starts_at_the_marked_end(saw, plan):
    first = cuts_of(plan)[0]
    saw.cut(first)
    bar = StockBar.objects.get(id=first.bar_id)
    used = bar.used_u
    short(saw, bar.id, bar.length_mm - 300)
    bar.refresh_from_db()
    assert bar.used_u == used


def test_a_bar_of_no_use_goes_out_of_the_plan(saw, plan):
    first = cuts_of(plan)[0]
    saw.bars(2)
    short(saw, first.bar_id, 0.0)
    bar = StockBar.objects.get(id=first.bar_id)
    assert (bar.state, bar.length_u) == ("used", 0)
    assert len(cuts_of(plan)) == 12
    assert complaints(saw.shop) == []


def test_without_stock_what_no_longer_fits_waits_to_be_planned(saw):
    for _ in range(4):
        saw.spool()
    saw.bars(1)
    plan = saw.plan()
    bar_id = cuts_of(plan)[0].bar_id
    short(saw, bar_id, 2000.0)
    kept = cuts_of(plan)
    assert 0 < len(kept) < 8
    saw.bars(1)
    assert len(kept) + len(cuts_of(saw.plan())) == 8
    assert complaints(saw.shop) == []


def test_a_slip_is_mended_by_typing_again(saw, plan):
    first = cuts_of(plan)[0]
    bar = first.bar
    short(saw, bar.id, 3000.0)
    short(saw, bar.id, bar.length_mm)
    assert StockBar.objects.get(id=bar.id).length_u == bar.received_u
    assert StockEvent.objects.filter(kind="corrected").count() == 2


def test_it_can_not_be_longer_than_it_came(saw, plan):
    bar = cuts_of(plan)[0].bar
    assert list(refused(lambda: short(saw, bar.id, bar.length_mm + 1)).fields) == ["usable"]


def test_a_bar_in_no_plan_is_only_put_right(saw):
    (bar,) = saw.bars(1)
    assert short(saw, bar.id, 6000.0) is None
    assert StockBar.objects.get(id=bar.id).length_u == 6000 * PER_MM


def test_a_bar_scrapped_while_it_was_being_looked_at_gets_no_length_back(saw, monkeypatch):
    (bar,) = saw.bars(1)

    def scrapped_meanwhile(looked_at):
        scrap_bar(bar_id=looked_at.id, reason="pitted", **saw.call())
        monkeypatch.undo()

    monkeypatch.setattr("cutlists.actions.bar_short.plan_on", scrapped_meanwhile)
    assert refused(lambda: short(saw, bar.id, 6000.0)).code == "not_on_hand"
    assert complaints(saw.shop) == []


def test_the_same_key_plans_once(saw, plan):
    bar_id = cuts_of(plan)[0].bar_id
    short(saw, bar_id, 3000.0, key="key-of-the-bar")
    cuts = [(cut.id, cut.bar_id) for cut in cuts_of(plan)]
    short(saw, bar_id, 3000.0, key="key-of-the-bar")
    assert [(cut.id, cut.bar_id) for cut in cuts_of(plan)] == cuts
