"""Levels 2 to 4: with new stock settled, less scrap, fewer and longer drops, fewer patterns."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cutlists.nesting.critical import TooMany, all_patterns
from cutlists.nesting.fill_plans import BITS_LIMIT, capacity_of, plans_for
from cutlists.nesting.finer_choice import fewest_patterns, least_waste, longest_drop
from cutlists.nesting.finer_columns import finer_patterns
from cutlists.nesting.program import Choice
from cutlists.nesting.record import Record
from cutlists.nesting.reduced import Pattern
from cutlists.nesting.watch import Stopped, Watch

EVERY_PATTERN = 4_000
"""With no more patterns than this all of them are looked at, and the levels are exact."""
MOST_WIDTHS = 250
"""With more widths exact fills leave next to nothing, and the linear programs take too long to gain it."""
MOST_CELLS = 5_000_000
SECONDS_A_LEVEL = 2.0
MARKED_PATTERNS = 600
"""Marking patterns one by one is worth it only for few."""


def finer_levels(record: Record, seeds: Sequence[Pattern], watch: Watch) -> None:
    """Better plans on levels 2 to 4 that use no more new stock; raises Stopped when time is up."""
    reduced = record.reduced
    if _fills_could_help(record):
        for filled in plans_for(reduced.on_grid(BITS_LIMIT), record.covering, record.used, watch):
            if filled.complete:
                record.offer(filled.layout)
            watch.check()
    try:
        patterns = all_patterns(reduced, EVERY_PATTERN)
    except TooMany:
        patterns = _made_patterns(record, seeds, watch)
    if not patterns:
        return
    _level(record, patterns, watch, least_waste, worth_it=record.levels[1] > 0)
    few = len(patterns) <= MARKED_PATTERNS
    _level(record, patterns, watch, longest_drop, worth_it=few)
    _level(record, patterns, watch, fewest_patterns, worth_it=few)


def _fills_could_help(record: Record) -> bool:
    """Whether the bars at this total of new stock leave anything to gain: less waste, or a longer drop."""
    reduced, covering = record.reduced, record.covering
    if covering.table is None:
        return False
    held = covering.free + capacity_of(reduced, covering.bars(record.used))
    return record.levels[1] > 0 or reduced.unit * (held - reduced.total) > -record.levels[2]


def _made_patterns(record: Record, seeds: Sequence[Pattern], watch: Watch) -> list[Pattern]:
    """Patterns made for level 2, where there is something to gain and the problem isn't too big."""
    reduced = record.reduced
    cells = len(reduced.widths) * reduced.longest
    if not record.levels[1] or len(reduced.widths) > MOST_WIDTHS or cells > MOST_CELLS:
        return []
    patterns = list(dict.fromkeys([*record.layout, *seeds]))
    share = watch.part(0.5, SECONDS_A_LEVEL)
    try:
        return finer_patterns(record, patterns, share)
    except Stopped:
        watch.check()
        return patterns


Step = Callable[[Record, Sequence[Pattern], float, Callable[[], bool]], Choice]


def _level(record: Record, patterns: Sequence[Pattern], watch: Watch, step: Step, *, worth_it: bool) -> None:
    if worth_it:
        every = list(dict.fromkeys([*record.layout, *patterns]))
        record.offer(step(record, every, min(watch.left, SECONDS_A_LEVEL), watch.over).layout)
        watch.check()
