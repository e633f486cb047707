"""Add a plan up again from nothing but the problem; believes no figure of the plan."""

from __future__ import annotations

from collections import Counter

from cutlists.nesting.problem import PROVEN, Bar, Levels, Plan, Problem


def verify(problem: Problem, plan: Plan) -> list[str]:
    """Every complaint about the plan, in words; an empty list says that it can be cut as it stands."""
    complaints: list[str] = []
    for number, bar in enumerate(plan.bars, start=1):
        complaints += [f"bar {number}: {text}" for text in _bar_complaints(problem, bar)]
    complaints += _piece_complaints(problem, plan)
    complaints += _stock_complaints(problem, plan)
    if not complaints:
        complaints += _total_complaints(problem, plan)
    return complaints


def measure(problem: Problem, bars: tuple[Bar, ...]) -> Levels:
    """The four levels of a plan, added up from its bars."""
    new_stock, waste, longest = 0, 0, 0
    patterns = set()
    for bar in bars:
        stock = problem.stock_by_id[bar.stock]
        lengths = sorted(problem.demand_by_id[cut].length for cut in bar.cuts)
        drop = problem.drop_after(stock, lengths)
        kept = drop > 0 and drop >= problem.keep_from
        new_stock += stock.price * bar.times
        waste += (problem.price_of_a_drop if kept else drop) * bar.times
        longest = max(longest, drop if kept else 0)
        patterns.add((problem.usable(stock), tuple(lengths)))
    return Levels(new_stock, waste, -longest, len(patterns))


def scrap_of(problem: Problem, bars: tuple[Bar, ...]) -> int:
    """Length of all drops too short to keep."""
    return sum(bar.drop * bar.times for bar in bars if bar.drop < problem.keep_from)


def _bar_complaints(problem: Problem, bar: Bar) -> list[str]:
    if bar.stock not in problem.stock_by_id:
        return [f"there is no stock {bar.stock!r}"]
    strangers = [cut for cut in bar.cuts if cut not in problem.demand_by_id]
    if strangers:
        return [f"nobody asked for piece {strangers[0]!r}"]
    stock = problem.stock_by_id[bar.stock]
    lengths = [problem.demand_by_id[cut].length for cut in bar.cuts]
    needed = sum(lengths) + problem.kerf * max(0, len(lengths) - 1)
    complaints = []
    if bar.times < 1:
        complaints.append(f"it is cut {bar.times} times")
    if not bar.cuts:
        complaints.append("nothing is cut from it")
    if needed > problem.usable(stock):
        complaints.append(f"its cuts and kerfs need {needed}; {stock.id} has {problem.usable(stock)} after its trim")
    elif bar.drop != problem.drop_after(stock, lengths):
        complaints.append(f"its drop is {problem.drop_after(stock, lengths)}, not {bar.drop}")
    return complaints


def _piece_complaints(problem: Problem, plan: Plan) -> list[str]:
    cut: Counter[str] = Counter()
    for bar in plan.bars:
        for piece in bar.cuts:
            cut[piece] += bar.times
    return [
        f"piece {demand.id}: {cut[demand.id]} cut, {demand.count} asked for"
        for demand in problem.demand
        if cut[demand.id] != demand.count
    ]


def _stock_complaints(problem: Problem, plan: Plan) -> list[str]:
    opened: Counter[str] = Counter()
    for bar in plan.bars:
        opened[bar.stock] += bar.times
    return [
        f"stock {stock.id}: {opened[stock.id]} opened, {stock.count} there"
        for stock in problem.stock
        if stock.count is not None and opened[stock.id] > stock.count
    ]


def _total_complaints(problem: Problem, plan: Plan) -> list[str]:
    levels = measure(problem, plan.bars)
    complaints = []
    if plan.levels != levels:
        complaints.append(f"its levels are {levels.as_tuple()}, not {plan.levels.as_tuple()}")
    if plan.stock_length_used != levels.new_stock:
        complaints.append(f"it uses {levels.new_stock} of new stock, not {plan.stock_length_used}")
    if plan.lower_bound > levels.new_stock:
        complaints.append(f"its bound {plan.lower_bound} lies above the {levels.new_stock} that it uses")
    if plan.proven != (plan.lower_bound == levels.new_stock):
        complaints.append("proven is said where bound and plan differ, or not said where they meet")
    if plan.proven != (plan.word == PROVEN):
        complaints.append(f"its word is {plan.word!r}")
    if plan.scrap != scrap_of(problem, plan.bars):
        complaints.append(f"its scrap is {scrap_of(problem, plan.bars)}, not {plan.scrap}")
    return complaints
