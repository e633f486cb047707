"""The proposal for the benches: due time, capability, change-overs and hours decide, and each move says why."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spools.flow.balance import CHANGE_OVER_H, Place, Work, propose
from spools.flow.machine_limits import Takes

NOON = datetime(2026, 11, 24, 18, tzinfo=UTC)
H = timedelta(hours=1)


def work(number, *, nps="6", hours=1.0, due_in=8.0, rush=False):
    return Work(number, str(number), nps, hours, "median of 9 here", NOON + due_in * H, due_in, rush)


def bench(number, *sizes, set_up="6", hours=0.0):
    return Place(number, str(number), Takes(tuple(sizes)), set_up, hours)


def where(proposal):
    return {move.label: move.bench for move in proposal.moves}


def test_what_is_due_first_gets_the_first_place():
    proposal = propose([work(1, due_in=9), work(2, due_in=3)], [bench(1)])
    assert [move.label for move in proposal.moves] == ["2", "1"]


def test_a_rush_comes_before_what_is_due_earlier():
    assert [m.label for m in propose([work(1, due_in=1), work(2, rush=True)], [bench(1)]).moves] == ["2", "1"]


def test_work_is_shared_so_that_the_benches_end_together():
    proposal = propose([work(n) for n in range(8)], [bench(1, hours=3.0), bench(2)])
    assert [after for _, _, after in proposal.loads] == [6.0, 5.0]


def test_a_size_goes_only_where_it_fits_and_what_fits_nowhere_is_said():
    proposal = propose([work(1, nps="8"), work(2, nps="10")], [bench(1, "6"), bench(2, "6", "8")])
    assert where(proposal) == {"1": "2"}
    assert [one.label for one in proposal.nowhere] == ["2"]
    assert proposal.moves[0].reason.startswith("the only bench up that takes NPS 8, changes over from NPS 6")


def test_a_bench_that_is_set_up_for_the_size_is_preferred_until_its_queue_is_longer_than_a_change_over():
    benches = [bench(1, set_up="6"), bench(2, set_up="8")]
    assert where(propose([work(1, nps="8")], benches)) == {"1": "2"}
    busy = [bench(1, set_up="6"), bench(2, set_up="8", hours=2 * CHANGE_OVER_H)]
    moved = propose([work(1, nps="8")], busy).moves[0]
    assert moved.bench == "1"
    assert "even with the change-over from NPS 6 sooner than elsewhere" in moved.reason


def test_each_reason_tells_the_hours_where_they_come_from_and_whether_it_is_in_time():
    benches = [bench(1), bench(2, hours=9.0)]
    first, second = propose([work(1, due_in=4), work(2, due_in=1.5)], benches).moves
    assert first.reason == "set up for NPS 6, free now; 1.0 h (median of 9 here); done 0.5 h before it is due"
    assert second.reason == "set up for NPS 6, 1.0 h in front; 1.0 h (median of 9 here); done 2.0 h before it is due"
    assert propose([work(1, due_in=0.5)], [bench(1)]).moves[0].reason.endswith("0.5 h late at the soonest")
    assert propose([work(1, due_in=-1.0)], [bench(1)]).moves[0].reason.endswith("late already")


HOURS = st.floats(0.1, 5.0)


@given(st.lists(HOURS, min_size=1, max_size=30), st.integers(1, 4))
def test_the_end_is_never_worse_than_the_bound_of_list_scheduling(hours, benches):
    # R. L. Graham, Bounds for certain multiprocessing anomalies, BSTJ 45 (1966): at most 2 - 1/m times the best end,
    # and the best end is at least the longest job and the mean load.
    works = [work(number, hours=h) for number, h in enumerate(hours)]
    loads = propose(works, [bench(number) for number in range(benches)]).loads
    best = max(*hours, sum(hours) / benches)
    assert max(after for *_, after in loads) <= (2 - 1 / benches) * best + 0.06  # the loads are rounded to 0.1 h


@given(st.lists(st.tuples(HOURS, st.sampled_from(["6", "8"]), st.floats(0, 20)), max_size=20))
def test_nothing_is_lost_doubled_or_put_where_it_does_not_fit(rows):
    works = [work(n, hours=h, nps=nps, due_in=due) for n, (h, nps, due) in enumerate(rows)]
    proposal = propose(works, [bench(1, "6"), bench(2, "8")])
    assert sorted(int(move.label) for move in proposal.moves) == list(range(len(rows)))
    assert all(move.bench == ("1" if move.nps == "6" else "2") for move in proposal.moves)
    due = [works[int(move.label)].due_at for move in proposal.moves]
    assert all(one <= other for one, other in pairwise(due))


@pytest.mark.parametrize("places", [[], [bench(1, "10")]])
def test_without_an_able_bench_nothing_moves(places):
    proposal = propose([work(1)], places)
    assert (proposal.moves, len(proposal.nowhere)) == ((), 1)
