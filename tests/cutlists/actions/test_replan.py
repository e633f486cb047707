"""The rest of a plan is planned again when it pays; bars on a saw keep their cuts."""

from cutlists.actions.replan import replan
from cutlists.actions.start_bar import start_bar
from cutlists.actions.take_out import call_off_plan
from cutlists.models import CutPlan, StockBar, StockEvent
from tests.cutlists.actions.a_saw import complaints
from tests.cutlists.conftest import cuts_of, refused


def again(saw, plan, **fields):
    return replan(plan_id=plan.id, seconds=1, **saw.call(**fields))


def test_a_drop_that_came_meanwhile_takes_the_place_of_a_new_bar(saw):
    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    (drop,) = saw.bars(1, lengths_mm=[1300.0], nominal_mm=0)
    done = again(saw, plan)
    assert {cut.bar_id for cut in cuts_of(plan)} == {drop.id}
    assert (done.new_stock_u, done.proven) == (0, True)
    assert set(StockBar.objects.exclude(id=drop.id).values_list("state", flat=True)) == {"in_stock"}


def test_where_nothing_is_gained_every_cut_stays(saw):
    for _ in range(5):
        saw.spool()
    saw.bars(2)
    plan = saw.plan()
    before = [(cut.id, cut.bar_id, cut.position_u) for cut in cuts_of(plan)]
    again(saw, plan)
    assert [(cut.id, cut.bar_id, cut.position_u) for cut in cuts_of(plan)] == before


def test_a_bar_on_a_saw_keeps_its_cuts(saw):
    for _ in range(8):
        saw.spool()
    saw.bars(3)
    plan = saw.plan()
    first = cuts_of(plan)[0]
    start_bar(bar_id=first.bar_id, **saw.call())
    on_saw = {cut.id for cut in cuts_of(plan) if cut.bar_id == first.bar_id}
    saw.bars(1, lengths_mm=[5000.0], nominal_mm=0)
    again(saw, plan)
    assert on_saw <= {cut.id for cut in cuts_of(plan)}
    assert complaints(saw.shop) == []


def test_more_pieces_join(saw):
    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    late = saw.spool()
    pieces = list(late.pieces.filter(sawn=True).values_list("id", flat=True))
    again(saw, plan, more_pieces=pieces)
    assert len(cuts_of(plan)) == 4


def test_the_same_key_plans_once(saw):
    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    again(saw, plan, key="key-of-the-rest")
    again(saw, plan, key="key-of-the-rest")
    assert StockEvent.objects.filter(kind="again").count() == 1


def test_called_off_bars_go_back_and_opened_ones_come_back_as_drops(saw):
    for _ in range(8):
        saw.spool()
    saw.bars(3)
    plan = saw.plan()
    first = cuts_of(plan)[0]
    saw.cut(first)
    call_off_plan(plan_id=plan.id, **saw.call())
    plan.refresh_from_db()
    assert (cuts_of(plan), plan.state) == ([], "done")
    assert StockBar.objects.get(id=first.bar_id).state == "used"
    assert StockBar.objects.filter(cut_from_id=first.bar_id, state="in_stock").count() == 1
    assert not StockBar.objects.filter(state__in=["reserved", "on_saw"]).exists()
    assert complaints(saw.shop) == []


def test_called_off_before_the_first_cut_it_is_withdrawn(saw):
    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    call_off_plan(plan_id=plan.id, **saw.call())
    assert CutPlan.objects.get().state == "withdrawn"
    assert saw.plan().number == 2


def test_another_shop_s_plan_does_not_exist(saw):
    from spools.flow.roles import Role
    from tests.factories.people import make_person, make_shop

    saw.spool()
    saw.bars(1)
    plan = saw.plan()
    stranger = make_person(make_shop("Other"), Role.CUTTER)
    assert refused(lambda: again(saw, plan, person=stranger)).code == "not_found"
