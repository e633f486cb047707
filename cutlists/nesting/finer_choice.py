"""Levels 2 to 4 by integer programs over given patterns: each keeps what the levels before it have reached.

Every program starts from the best plan known, so its answer is never worse, whenever it is stopped.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cutlists.nesting.program import UNLIMITED, Choice, Program
from cutlists.nesting.record import Record
from cutlists.nesting.reduced import Counts, Pattern, Reduced

Stop = Callable[[], bool]


def least_waste(record: Record, patterns: Sequence[Pattern], seconds: float, stop: Stop) -> Choice:
    """Least scrap and price of drops without more new stock than the best plan uses."""
    reduced = record.reduced
    program = Program(reduced, patterns, [_waste(reduced, pattern) for pattern in patterns])
    program.rows_for_demand(exactly=True)
    _no_more_stock(program, record)
    program.start_from(record.layout)
    return program.solve(seconds, stop)


def longest_drop(record: Record, patterns: Sequence[Pattern], seconds: float, stop: Stop) -> Choice:
    """A longer drop than the best plan's, new stock and waste no worse: the bar that leaves it is marked."""
    reduced = record.reduced
    drops = [_drop(reduced, pattern) for pattern in patterns]
    longer = [place for place, drop in enumerate(drops) if drop > -record.levels[2] and drop >= reduced.keep_from]
    if not longer:
        return Choice(None, closed=True)
    program = Program(reduced, patterns, [0] * len(patterns))
    program.rows_for_demand(exactly=True)
    _no_more_stock(program, record)
    _no_more_waste(program, record)
    marks = program.marks([-drops[place] for place in longer])
    program.row(1, 1, [(mark, 1) for mark in marks])
    for mark, place in zip(marks, longer, strict=True):
        program.row(0, UNLIMITED, [(place, 1), (mark, -1)])
    return program.solve(seconds, stop)


def fewest_patterns(record: Record, patterns: Sequence[Pattern], seconds: float, stop: Stop) -> Choice:
    """As few set-ups at the saw as the levels before allow: a pattern must be marked to be used."""
    reduced = record.reduced
    program = Program(reduced, patterns, [0] * len(patterns))
    program.rows_for_demand(exactly=True)
    _no_more_stock(program, record)
    _no_more_waste(program, record)
    longest = -record.levels[2]
    if longest:
        keeping = [(place, 1) for place, pattern in enumerate(patterns) if _drop(reduced, pattern) >= longest]
        program.row(1, UNLIMITED, keeping)
    alike: dict[tuple[int, Counts], list[int]] = {}
    for place, (kind, counts) in enumerate(patterns):
        alike.setdefault((reduced.kinds[kind].room, counts), []).append(place)
    for places, mark in zip(alike.values(), program.marks([1] * len(alike)), strict=True):
        most = sum(program.most(patterns[place]) for place in places)
        program.row(0, UNLIMITED, [(mark, most), *((place, -1) for place in places)])
    return program.solve(seconds, stop)


def _waste(reduced: Reduced, pattern: Pattern) -> int:
    return reduced.waste(pattern[0], reduced.filled(pattern[1]))


def _drop(reduced: Reduced, pattern: Pattern) -> int:
    return reduced.drop(pattern[0], reduced.filled(pattern[1]))


def _no_more_stock(program: Program, record: Record) -> None:
    costs = [record.reduced.kinds[kind].cost for kind, _ in program.patterns]
    program.row(-UNLIMITED, record.levels[0], enumerate(costs))


def _no_more_waste(program: Program, record: Record) -> None:
    wastes = [_waste(record.reduced, pattern) for pattern in program.patterns]
    program.row(-UNLIMITED, record.levels[1], enumerate(wastes))
