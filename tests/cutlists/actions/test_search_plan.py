"""A longer look at a plan: asked for once, told how far it is, stopped at any time, and never for the worse."""

import pytest

from cutlists.actions.search_plan import ask_search, due_searches, run_search, stop_search
from cutlists.models import PlanSearch
from tests.cutlists.conftest import cuts_of


@pytest.fixture
def plan(saw):
    for _ in range(5):
        saw.spool()
    saw.bars(3)
    return saw.plan()


def test_it_is_asked_for_once_at_a_time(saw, plan):
    first = ask_search(plan_id=plan.id, **saw.call())
    assert ask_search(plan_id=plan.id, **saw.call()) == first
    assert due_searches(saw.at) == [first.id]


def test_done_it_says_what_came_of_it(saw, plan):
    search = ask_search(plan_id=plan.id, seconds=1, **saw.call())
    assert run_search(search.id)
    search.refresh_from_db()
    assert (search.state, search.words) == ("done", "no less new pipe found")
    assert search.best_u == plan.new_stock_u
    assert len(cuts_of(plan)) == 10
    assert not run_search(search.id)


def test_a_drop_that_came_meanwhile_is_found(saw, plan):
    saw.bars(1, lengths_mm=[6395.0], nominal_mm=0)
    search = ask_search(plan_id=plan.id, seconds=1, **saw.call())
    run_search(search.id)
    search.refresh_from_db()
    plan.refresh_from_db()
    assert (search.words, plan.new_stock_u) == ("found less new pipe", 0)


def test_stopped_before_it_began_it_does_nothing(saw, plan):
    search = ask_search(plan_id=plan.id, **saw.call())
    stop_search(search_id=search.id, person=saw.cutter)
    assert not run_search(search.id)
    assert PlanSearch.objects.get().state == "done"


def test_a_worker_that_died_is_replaced_when_its_lease_is_over(saw, plan):
    from datetime import timedelta

    search = ask_search(plan_id=plan.id, **saw.call())
    PlanSearch.objects.update(state="running", leased_until=saw.at)
    assert due_searches(saw.at + timedelta(seconds=1)) == [search.id]
    assert due_searches(saw.at - timedelta(seconds=1)) == []
