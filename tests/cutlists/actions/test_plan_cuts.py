"""A day's pipe is planned from what lies in the rack, and what is planned is reserved."""

from cutlists.actions.plan_cuts import plan_cuts
from cutlists.actions.replan import replan
from cutlists.actions.start_bar import start_bar
from cutlists.models import Cut, CutPlan, StockBar
from cutlists.units import to_units
from spools.actions.hold_spool import hold_spool
from spools.actions.wrong_cut import wrong_cut
from spools.flow.roles import Role
from tests.cutlists.conftest import cuts_of, refused
from tests.factories.people import make_person
from tests.factories.spools import make_key


def test_every_piece_is_planned_once_and_its_bar_reserved(saw):
    for _ in range(3):
        saw.spool()
    (bar,) = saw.bars(1)
    plan = saw.plan()
    bar.refresh_from_db()
    assert sorted(cut.piece_id for cut in cuts_of(plan)) == sorted(piece.id for piece in saw.pieces())
    assert (bar.state, plan.new_stock_u, plan.proven) == ("reserved", bar.nominal_u, True)


def test_pieces_lie_end_to_end_with_trim_and_kerf_between(saw):
    for _ in range(3):
        saw.spool()
    saw.bars(1)
    plan = saw.plan()
    at = plan.trim_u
    for cut in cuts_of(plan):
        assert cut.position_u == at
        assert cut.length_u == to_units(cut.piece.stock_mm)
        at += cut.length_u + plan.kerf_u


def test_drops_are_taken_before_new_bars(saw):
    saw.spool()
    saw.bars(1)
    (drop,) = saw.bars(1, lengths_mm=[1300.0], nominal_mm=0)
    plan = saw.plan()
    assert plan.new_stock_u == 0
    assert {cut.bar_id for cut in cuts_of(plan)} == {drop.id}


def test_each_pipe_gets_a_plan_of_its_own(saw):
    saw.spool()
    saw.spool(nps="8")
    saw.bars(1)
    saw.bars(1, nps="8", heat="8H1907")
    plans = plan_cuts(spool_ids=[spool.id for spool in saw.spools], seconds=1, **saw.call())
    assert [(plan.number, plan.nps) for plan in plans] == [(1, "6"), (2, "8")]


def test_where_one_pipe_lacks_stock_nothing_is_written(saw):
    saw.spool()
    saw.spool(nps="8")
    saw.bars(1)
    refusal = refused(lambda: plan_cuts(spool_ids=[s.id for s in saw.spools], seconds=1, **saw.call()))
    assert refusal.code == "not_enough_stock"
    assert "215-A" in refusal.facts["pieces"]
    assert not CutPlan.objects.exists()
    assert set(StockBar.objects.values_list("state", flat=True)) == {"in_stock"}


def test_the_same_key_gives_the_same_plans(saw):
    saw.spool()
    saw.bars(1)
    plan = saw.plan(key="key-of-the-plan")
    assert saw.plan(key="key-of-the-plan") == plan
    assert Cut.objects.count() == 2


def test_what_is_planned_held_or_cut_is_not_planned_again(saw):
    held, spool = saw.spool(), saw.spool()
    hold_spool(spool_id=held.id, person=saw.foreman, key=make_key(), at=saw.at, reason="no elbow")
    saw.bars(1)
    saw.plan()
    assert {cut.piece.spool_id for cut in Cut.objects.all()} == {spool.id}
    assert refused(saw.plan).code == "invalid"


def test_a_piece_taken_back_on_its_own_page_can_be_planned_again(saw):
    spool = saw.spool()
    saw.bars(1)
    plan = saw.plan()
    for cut in cuts_of(plan):
        saw.cut(cut)
    wrong_cut(spool_id=spool.id, piece="A", person=saw.foreman, key=make_key(), at=saw.at, reason="1 in short")
    again = saw.plan()
    assert [cut.piece.mark for cut in cuts_of(again)] == ["A"]
    assert plan.cuts.get(piece__mark="A").state == "withdrawn"


def test_rush_comes_on_the_first_bar(saw):
    for _ in range(8):
        saw.spool()
    saw.spools[-1].rush = True
    saw.spools[-1].save()
    saw.bars(2)
    plan = saw.plan()
    first_bar = {cut.piece.spool_id for cut in cuts_of(plan) if cut.bar_order == 1}
    assert saw.spools[-1].id in first_bar


def test_the_plan_is_never_worse_than_ticket_order_or_longest_first(saw):
    for _ in range(9):
        saw.spool()
    saw.bars(3)
    ways = saw.plan().compared
    assert set(ways) == {"plan", "ticket_order", "first_fit"}
    for way in ("ticket_order", "first_fit"):
        assert ways["plan"]["new_stock_u"] <= ways[way]["new_stock_u"]


def test_the_stored_new_stock_is_what_the_bars_add_up_to(saw):
    for _ in range(9):
        saw.spool()
    saw.bars(3)
    plan = saw.plan()
    used = StockBar.objects.filter(state="reserved")
    assert plan.new_stock_u == sum(bar.nominal_u for bar in used)


def test_planning_is_for_the_saw_and_the_foreman(saw):
    saw.spool()
    saw.bars(1)
    fitter = make_person(saw.shop, Role.FITTER)
    assert refused(lambda: saw.plan(person=fitter)).code == "not_your_role"


def test_a_plan_of_one_heat_cuts_from_that_heat_alone_and_stays_with_it(saw):
    saw.spool()
    saw.bars(2, heat="7K2214")
    (only,) = saw.bars(1, heat="8H1907")
    pipe = ("6", "40", only.material)
    (plan,) = plan_cuts(spool_ids=[saw.spools[0].id], seconds=1, one_heat={pipe: only.heat_id}, **saw.call())
    assert {cut.bar_id for cut in cuts_of(plan)} == {only.id}
    again = replan(plan_id=plan.id, seconds=1, **saw.call())
    assert {cut.bar_id for cut in cuts_of(again)} == {only.id}


def test_a_heat_without_enough_pipe_is_named(saw):
    saw.spool()
    saw.bars(2, heat="7K2214")
    (short,) = saw.bars(1, lengths_mm=[300.0], nominal_mm=0, heat="8H1907")
    pipe = ("6", "40", short.material)
    refusal = refused(
        lambda: plan_cuts(spool_ids=[saw.spools[0].id], seconds=1, one_heat={pipe: short.heat_id}, **saw.call())
    )
    assert "of heat 8H1907 in stock for 214-B, 214-A" in refusal.words
    assert not CutPlan.objects.exists()


def test_a_stencil_of_another_heat_stops_a_plan_of_one_heat(saw):
    saw.spool()
    (bar,) = saw.bars(1, heat="8H1907")
    pipe = ("6", "40", bar.material)
    plan_cuts(spool_ids=[saw.spools[0].id], seconds=1, one_heat={pipe: bar.heat_id}, **saw.call())
    refusal = refused(lambda: start_bar(bar_id=bar.id, heat="7K9999", **saw.call()))
    assert refusal.words == "Plan 1 may cut from heat 8H1907 only, and the stencil says 7K9999."
    bar.refresh_from_db()
    assert bar.state == StockBar.State.RESERVED
