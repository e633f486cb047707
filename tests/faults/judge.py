"""What must hold between the clients' own logs and the event table; it knows nothing else of the product.

An event that was acknowledged is there, once, with the number that was told; numbers run 1, 2, 3 … in each spool; what
was answered before something else was asked has the smaller number; nothing is there that nobody asked for, nothing
that was refused; nothing is done twice without having been undone; every answer is one of ours, in words.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any


@dataclass(frozen=True, slots=True)
class Said:
    """One request of a client: when it was sent, and what was answered; status 0 means that the answer was lost."""

    key: str
    spool: int
    sent_at: float
    heard_at: float
    status: int
    body: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the event table; ``undoes`` is the number, in its spool, of what it undoes."""

    id: int
    spool: int
    number: int
    code: str
    targets: tuple[str, ...]
    key: str
    received_at: float
    undoes: int | None = None


def judge(said: Sequence[Said], rows: Sequence[Row], *, at_start: int) -> Counter[str]:
    """Return every fault by its name; none means that all is well. ``at_start`` is how many rows were there before."""
    rows = sorted(rows, key=lambda row: row.id)
    old, new = rows[:at_start], rows[at_start:]
    faults: Counter[str] = Counter()
    faults.update(_answers_of_ours(said))
    faults.update(_acknowledged(said, rows))
    faults.update(_asked_for(said, new))
    faults.update(_numbers([*old, *new]))
    faults.update(_done_once([*old, *new]))
    faults.update(_in_order(said))
    return +faults


def _answers_of_ours(said: Iterable[Said]) -> Iterable[str]:
    """A 5xx, or an answer that says nothing, is a fault; 503 asks to come again and is none."""
    for one in said:
        if one.status >= 500 and one.status != 503:
            yield f"answered {one.status}"
        elif one.status >= 400 and not (one.body.get("words") and one.body.get("what_to_do")):
            yield "refused without words"
        elif one.status in {200, 201} and "event" not in one.body:
            yield "acknowledged without an event"


def _acknowledged(said: Iterable[Said], rows: Iterable[Row]) -> Iterable[str]:
    """Whatever was told is there as told; one key is always told the same."""
    there = {row.id: row for row in rows}
    told: dict[str, tuple[int, int]] = {}
    for one in said:
        if one.status not in {200, 201} or "event" not in one.body:
            continue
        row = there.get(one.body["event"])
        if row is None:
            yield "lost"
            continue
        answer = (row.spool, row.number, row.code, list(row.targets))
        if answer != (one.spool, one.body["number"], one.body["step"], one.body["targets"]):
            yield "told otherwise"
        if one.status == 201 and row.key != one.key:
            yield "told as new, recorded by another"
        if one.body.get("words") == "" and row.key != one.key:
            yield "somebody was first, and it was not said"
        if told.setdefault(one.key, (row.id, row.number)) != (row.id, row.number):
            yield "one key, two answers"


def _asked_for(said: Iterable[Said], new: Iterable[Row]) -> Iterable[str]:
    """Each new row has the key of a request (or key:step, for what a tap said was done already), refused by nobody."""
    kept: set[str] = set()
    last: dict[str, int] = {}
    for one in said:
        last[one.key] = one.status or last.get(one.key, 0)
        if one.status in {200, 201}:
            kept.add(one.key)
    seen: Counter[str] = Counter()
    for row in new:
        key = row.key.split(":")[0]
        seen[row.key] += 1
        if key not in last:
            yield "nobody asked for it"
        elif key not in kept and last[key] >= 400:
            yield "refused, yet there"
    yield from ("doubled key" for key, count in seen.items() if count > 1)


def _numbers(rows: Iterable[Row]) -> Iterable[str]:
    by_spool: dict[int, list[Row]] = defaultdict(list)
    for row in rows:
        by_spool[row.spool].append(row)
    for of_spool in by_spool.values():
        ordered = sorted(of_spool, key=lambda row: row.number)
        if [row.number for row in ordered] != list(range(1, len(ordered) + 1)):
            yield "numbers with a gap or twice"
        for before, after in pairwise(ordered):
            if after.received_at < before.received_at:
                yield "received before the one in front of it"


def _done_once(rows: Iterable[Row]) -> Iterable[str]:
    """Walk each spool: nothing is done that stands already, nothing is undone that does not stand."""
    by_spool: dict[int, list[Row]] = defaultdict(list)
    for row in rows:
        by_spool[row.spool].append(row)
    for of_spool in by_spool.values():
        stands: dict[int, Row] = {}
        done: set[tuple[str, str]] = set()
        for row in sorted(of_spool, key=lambda one: one.number):
            if row.undoes is not None:
                gone = stands.pop(row.undoes, None)
                if gone is None:
                    yield "undone twice"
                else:
                    done -= {(gone.code, target) for target in gone.targets}
                continue
            what = {(row.code, target) for target in row.targets}
            if done & what:
                yield "doubled"
            done |= what
            stands[row.number] = row


def _in_order(said: Iterable[Said]) -> Iterable[str]:
    """What was told as new before another was sent has the smaller number (in real time, spool by spool)."""
    new: dict[int, list[Said]] = defaultdict(list)
    for one in said:
        if one.status == 201 and "event" in one.body:
            new[one.spool].append(one)
    for of_spool in new.values():
        by_sending = sorted(of_spool, key=lambda one: one.sent_at)
        by_hearing = sorted(of_spool, key=lambda one: one.heard_at)
        highest, heard = 0, 0
        for one in by_sending:
            while heard < len(by_hearing) and by_hearing[heard].heard_at < one.sent_at:
                highest = max(highest, by_hearing[heard].body["number"])
                heard += 1
            if one.body["number"] < highest:
                yield "out of order"
