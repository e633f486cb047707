"""The plans of a saw hand are those that first-fit and best-fit make by hand, bars opened as they were listed."""

from hypothesis import HealthCheck, given, settings

from cutlists.nesting.first_fit import as_listed, best_fit, decreasing, first_fit
from cutlists.nesting.problem import NotEnoughStock, Problem
from cutlists.nesting.reduced import reduce
from tests.cutlists.nesting.by_hand import fitted, levels_of, problems

SLOW = settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SLOW
@given(problems(most_pieces=30, longest=60, most_stock=5))
def test_equal_bars_listed_apart_are_opened_in_the_order_of_the_list(problem: Problem) -> None:
    lengths = sorted((demand.length for demand in problem.demand for _ in range(demand.count)), reverse=True)
    try:
        reduced = reduce(problem)
    except NotEnoughStock:
        return
    order = as_listed(reduced, [stock.id for stock in problem.stock])
    for fit, best in ((first_fit, False), (best_fit, True)):
        by_hand = fitted(problem, lengths, list(problem.stock), best=best)
        layout = fit(reduced, decreasing(reduced), order)
        if by_hand is not None:
            assert layout is not None
            assert reduced.levels(layout) == levels_of(problem, by_hand)
