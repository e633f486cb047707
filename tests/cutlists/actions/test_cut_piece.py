"""A tap on CUT DONE moves the piece's step and the bar's length together, once."""

from cutlists.actions.start_bar import start_bar
from cutlists.models import Cut, CutPlan, StockBar, StockEvent
from cutlists.units import PER_64TH
from spools.actions.hold_spool import hold_spool
from spools.actions.record_step import Tap, record_step
from spools.actions.scrap_spool import supersede_spool
from spools.flow.roles import Role
from spools.models import Event, Piece
from tests.cutlists.conftest import cuts_of, refused
from tests.factories.people import make_person, make_shop
from tests.factories.spools import make_key


def one_spool_plan(saw, **fields) -> CutPlan:
    saw.spool()
    saw.bars(1, **fields)
    return saw.plan()


def test_the_piece_is_cut_and_carries_the_bar_s_heat(saw):
    plan = one_spool_plan(saw, heat="7K2214")
    made = saw.cut(cuts_of(plan)[0])
    piece = Piece.objects.get(id=made.cut.piece_id)
    assert (piece.is_cut, piece.heat.number) == (True, "7K2214")


def test_the_bar_loses_trim_piece_and_kerf(saw):
    plan = one_spool_plan(saw)
    cut = cuts_of(plan)[0]
    before = cut.bar.length_u
    saw.cut(cut)
    bar = StockBar.objects.get(id=cut.bar_id)
    assert bar.length_u == before - 16 * PER_64TH - cut.length_u - 8 * PER_64TH
    assert bar.state == "on_saw"
    kinds = list(bar.events.order_by("number").values_list("kind", flat=True))
    assert kinds == ["received", "reserved", "trimmed", "cut", "kerf"]


def test_the_last_cut_racks_the_drop_with_the_heat_and_closes_the_plan(saw):
    plan = one_spool_plan(saw, heat="7K2214")
    cuts = cuts_of(plan)
    saw.cut(cuts[0])
    made = saw.cut(cuts[1])
    bar = StockBar.objects.get(id=cuts[0].bar_id)
    plan.refresh_from_db()
    assert (bar.state, bar.length_u, plan.state) == ("used", 0, "done")
    assert (made.drop.is_drop, made.drop.cut_from, made.drop.heat.number) == (True, bar, "7K2214")
    assert made.drop.length_u == bar.received_u - bar.used_u


def test_what_is_too_short_to_keep_is_scrap(saw):
    saw.spool()
    length = sum(piece.stock_mm for piece in saw.pieces()) + 150.0
    saw.bars(1, lengths_mm=[length], nominal_mm=length)
    cuts = cuts_of(saw.plan())
    saw.cut(cuts[0])
    assert saw.cut(cuts[1]).drop is None
    assert StockEvent.objects.filter(kind="scrapped").count() == 1


def test_a_piece_that_ends_flush_leaves_nothing_and_needs_no_kerf(saw):
    saw.spool()
    a, b = (piece.stock_mm for piece in saw.pieces())
    saw.bars(1, lengths_mm=[a + b + 25.4 / 8], nominal_mm=0)
    cuts = cuts_of(saw.plan())
    saw.cut(cuts[0])
    saw.cut(cuts[1])
    bar = StockBar.objects.get(id=cuts[0].bar_id)
    assert (bar.length_u, bar.state) == (0, "used")
    assert bar.events.filter(kind="kerf").count() == 1


def test_the_same_key_adds_nothing(saw):
    plan = one_spool_plan(saw)
    cuts = cuts_of(plan)
    first = saw.cut(cuts[0], key="key-of-the-tap")
    length = StockBar.objects.get(id=cuts[0].bar_id).length_u
    again = saw.cut(cuts[0], key="key-of-the-tap")
    assert again.recorded.event == first.recorded.event
    assert StockBar.objects.get(id=cuts[0].bar_id).length_u == length


def test_a_heat_typed_between_a_tap_and_its_repeat_does_no_harm(saw):
    plan = one_spool_plan(saw, heat="")
    cuts = cuts_of(plan)
    saw.cut(cuts[0], key="key-of-the-tap")
    start = {"bar_id": cuts[0].bar_id, "heat": "7K2214"}
    assert refused(lambda: start_bar(**start, **saw.call())).code == "heat_cut"
    assert saw.cut(cuts[0], key="key-of-the-tap").recorded.repeated


def test_a_second_tap_by_somebody_else_says_who_was_first(saw):
    plan = one_spool_plan(saw)
    cut = cuts_of(plan)[0]
    saw.cut(cut)
    second = saw.cut(cut, person=saw.foreman)
    assert second.recorded.words.startswith("already cut by Okafor")
    assert StockEvent.objects.filter(kind="cut").count() == 1


def test_cut_out_of_order_the_others_move_up(saw):
    plan = one_spool_plan(saw)
    first, second = cuts_of(plan)
    saw.cut(second)
    first.refresh_from_db()
    second.refresh_from_db()
    assert second.position_u == plan.trim_u
    assert first.position_u == plan.trim_u + second.length_u + plan.kerf_u


def test_a_held_spool_stops_at_the_saw(saw):
    plan = one_spool_plan(saw)
    hold_spool(spool_id=saw.spools[0].id, person=saw.foreman, key=make_key(), at=saw.at, reason="no elbow")
    assert refused(lambda: saw.cut(cuts_of(plan)[0])).code == "on_hold"
    assert not StockEvent.objects.filter(kind="cut").exists()


def test_a_build_that_has_ended_stops_at_the_saw(saw):
    plan = one_spool_plan(saw)
    supersede_spool(spool_id=saw.spools[0].id, person=saw.foreman, key=make_key(), at=saw.at, reason="reading B")
    assert refused(lambda: saw.cut(cuts_of(plan)[0])).code == "ended"


def test_a_piece_recorded_elsewhere_asks_which_bar_it_came_from(saw):
    plan = one_spool_plan(saw)
    cut = cuts_of(plan)[0]
    tap = Tap(targets=(cut.piece.mark,))
    record_step(spool_id=cut.piece.spool_id, step="cut", person=saw.foreman, key=make_key(), at=saw.at, tap=tap)
    assert refused(lambda: saw.cut(cut)).code == "cut_elsewhere"
    saw.cut(cut, already=True, key="key-of-the-answer")
    saw.cut(cut, already=True, key="key-of-the-answer")
    cut.refresh_from_db()
    assert cut.state == "done"
    assert Event.objects.filter(code="cut").count() == 1
    assert StockEvent.objects.filter(kind="cut").count() == 1


def test_another_shop_s_cut_does_not_exist(saw):
    plan = one_spool_plan(saw)
    stranger = make_person(make_shop("Other"), Role.CUTTER)
    assert refused(lambda: saw.cut(cuts_of(plan)[0], person=stranger)).code == "not_found"
    assert not Cut.objects.filter(state="done").exists()
