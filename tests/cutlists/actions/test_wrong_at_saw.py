"""A wrong cut: the steel is booked as it is, the piece comes again, and what was cut serves where it can."""

import pytest

from cutlists.actions.cut_from import cut_from
from cutlists.actions.wrong_at_saw import wrong_at_saw
from cutlists.models import Cut, StockBar, StockEvent
from cutlists.saving import kept_pieces, serves
from spools.models import Event, Piece
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of, refused


@pytest.fixture
def cuts(saw):
    saw.spool()
    saw.spool()
    saw.bars(2)
    return cuts_of(saw.plan())


def wrong(saw, cut, **fields):
    values = {"reason": "stop slipped"} | {k: fields.pop(k) for k in ("reason", "real_mm") if k in fields}
    return wrong_at_saw(cut_id=cut.id, **values, **saw.call(**fields))


def test_the_piece_is_planned_again_and_the_steel_is_scrap(saw, cuts):
    plan = wrong(saw, cuts[0])
    cuts[0].refresh_from_db()
    again = plan.cuts.get(piece=cuts[0].piece, state="planned")
    assert (cuts[0].state, cuts[0].was_cut_wrong, again.moved_at) == ("withdrawn", True, saw.at)
    gone = StockEvent.objects.get(kind="scrapped")
    assert (gone.length_u, gone.piece_id) == (-cuts[0].length_u, cuts[0].piece_id)
    assert complaints(saw.shop) == []


def test_the_spool_s_story_says_cut_and_cut_wrong(saw, cuts):
    wrong(saw, cuts[0])
    codes = list(Event.objects.filter(spool=cuts[0].piece.spool).order_by("number").values_list("code", flat=True))
    assert codes == ["measured", "cut", "wrong_cut"]
    assert not Piece.objects.get(id=cuts[0].piece_id).is_cut


def test_what_it_really_measures_is_taken_off_the_bar(saw, cuts):
    bar = cuts[0].bar
    wrong(saw, cuts[0], real_mm=cuts[0].piece.stock_mm - 12.7)
    bar.refresh_from_db()
    assert bar.used_u == 16 * 127 + cuts[0].length_u - 4064 + 8 * 127


def test_a_piece_still_of_use_is_racked_with_its_heat(saw, cuts):
    wrong(saw, cuts[0], real_mm=600.0)
    (kept,) = kept_pieces(saw.cutter)
    assert (kept.length_mm, kept.heat.number, kept.cut_from) == (600.0, "7K2214", cuts[0].bar)


def test_too_short_for_anything_it_is_scrap(saw, cuts):
    wrong(saw, cuts[0], real_mm=200.0)
    assert kept_pieces(saw.cutter) == []


def test_a_kept_piece_serves_another_tie_in(saw, cuts):
    wrong(saw, cuts[0], real_mm=500.0)
    (kept,) = kept_pieces(saw.cutter)
    best = serves(kept, kept.length_u)[0]
    cut = cut_from(piece_id=best.piece.id, bar_id=kept.id, **saw.call())
    assert (cut.bar, cut.length_u + best.trim_u) == (kept, kept.length_u)
    assert Cut.objects.filter(piece=best.piece, state="planned").count() == 1
    saw.cut(cut)
    assert Piece.objects.get(id=best.piece.id).heat.number == "7K2214"
    assert complaints(saw.shop) == []


def test_noticed_after_the_tap_it_still_counts_as_wrong(saw, cuts):
    saw.cut(cuts[0])
    plan = wrong(saw, cuts[0], real_mm=700.0)
    assert plan.cuts.filter(piece=cuts[0].piece, state="planned").count() == 1
    assert complaints(saw.shop) == []


def test_noticed_after_the_bar_was_finished_the_books_still_close(saw, cuts):
    for cut in cuts:
        saw.cut(cut)
    plan = wrong(saw, cuts[0], real_mm=700.0)
    assert plan.state == "open"
    assert complaints(saw.shop) == []


def test_only_its_own_bar_is_planned_again(saw):
    for _ in range(8):
        saw.spool()
    saw.bars(3)
    cuts = cuts_of(saw.plan())
    others = {cut.id for cut in cuts if cut.bar_id != cuts[0].bar_id}
    assert others
    wrong(saw, cuts[0])
    assert set(Cut.objects.filter(id__in=others, state="planned").values_list("id", flat=True)) == others


def test_what_is_cut_never_moves(saw, cuts):
    saw.cut(cuts[0])
    before = Cut.objects.filter(id=cuts[0].id).values().get()
    wrong(saw, cuts[1])
    assert Cut.objects.filter(id=cuts[0].id).values().get() == before


def test_without_stock_for_it_the_piece_waits_to_be_planned(saw):
    saw.spool()
    length = sum(piece.stock_mm for piece in saw.pieces()) + 20
    saw.bars(1, lengths_mm=[length], nominal_mm=length)
    plan = saw.plan()
    first = cuts_of(plan)[0]
    wrong(saw, first)
    assert not Cut.objects.filter(piece=first.piece, state="planned").exists()
    saw.bars(1)
    assert [cut.piece for cut in cuts_of(saw.plan())] == [first.piece]
    assert complaints(saw.shop) == []


def test_the_same_key_is_one_wrong_cut(saw, cuts):
    wrong(saw, cuts[0], key="key-of-the-slip")
    events = StockEvent.objects.count()
    wrong(saw, cuts[0], key="key-of-the-slip")
    assert StockEvent.objects.count() == events


@pytest.mark.parametrize(
    ("fields", "named"),
    [({"reason": " "}, "reason"), ({"real_mm": 0.0}, "real"), ({"real_mm": 9000.0}, "real")],
)
def test_what_can_not_be_is_named(saw, cuts, fields, named):
    assert list(refused(lambda: wrong(saw, cuts[0], **fields)).fields) == [named]
    assert StockBar.objects.get(id=cuts[0].bar_id).used_u == 0


def test_a_verdict_is_not_claimed_for_what_the_saw_changed(saw, cuts):
    plan = wrong(saw, cuts[0])
    assert (plan.proven, plan.verdict[:19]) == (False, "changed at the saw;")
