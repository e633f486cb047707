"""A problem from JSON text and a plan to JSON, with messages that say which entry to mend."""

from __future__ import annotations

import json
from math import inf
from typing import Any

from cutlists.nesting.problem import Demand, Plan, Problem, ProblemError, Stock

DEFAULT_SECONDS = 10.0
MOST_SECONDS = 1_000_000.0
KEYS = ("kerf", "trim", "keep_from", "drop_price", "stock", "demand", "seconds")
STOCK_KEYS = ("id", "length", "count", "cost", "remnant", "trim")
DEMAND_KEYS = ("id", "length", "count")


def read_problem(text: str) -> tuple[Problem, float]:
    """The problem and its time limit in seconds; raises ProblemError."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as trouble:
        raise ProblemError(f"not JSON: {trouble}") from trouble
    if not isinstance(data, dict):
        raise ProblemError('give an object: {"kerf": 2, "trim": 0, "keep_from": 0, "stock": [...], "demand": [...]}')
    _only(data, KEYS, "a problem")
    problem = Problem(
        kerf=data.get("kerf", 0),
        trim=data.get("trim", 0),
        keep_from=data.get("keep_from", 0),
        drop_price=data.get("drop_price"),
        stock=tuple(_stock(row, number) for number, row in _rows(data, "stock")),
        demand=tuple(_demand(row, number) for number, row in _rows(data, "demand")),
    )
    return problem, _seconds(data.get("seconds", DEFAULT_SECONDS))


def plan_as_json(plan: Plan) -> dict[str, Any]:
    """A plan as plain lists and numbers."""
    return {
        "bars": [{"stock": b.stock, "cuts": list(b.cuts), "times": b.times, "drop": b.drop} for b in plan.bars],
        "bars_used": plan.bars_used,
        "stock_length_used": plan.stock_length_used,
        "lower_bound": plan.lower_bound,
        "proven": plan.proven,
        "word": plan.word,
        "scrap": plan.scrap,
        "seconds": round(plan.seconds, 4),
    }


def _rows(data: dict[str, Any], name: str) -> list[tuple[int, dict[str, Any]]]:
    rows = data.get(name)
    if not isinstance(rows, list):
        raise ProblemError(f'"{name}" must be a list of entries')
    for number, row in enumerate(rows, start=1):
        if not isinstance(row, dict):
            raise ProblemError(f'entry {number} of "{name}" must be an object with "id" and "length"')
    return list(enumerate(rows, start=1))


def _only(data: dict[str, Any], keys: tuple[str, ...], what: str) -> None:
    """Refuse a key that nobody reads: a misspelled kerf would be none at all."""
    for key in data:
        if key not in keys:
            raise ProblemError(f"{key[:40]!r} is no key of {what}: use {', '.join(keys)}")


def _text(row: dict[str, Any], where: str) -> str:
    name = row.get("id")
    if isinstance(name, bool) or not isinstance(name, str | int):
        raise ProblemError(f'{where} needs an "id"')
    return str(name)


def _stock(row: dict[str, Any], number: int) -> Stock:
    name = _text(row, f'entry {number} of "stock"')
    _only(row, STOCK_KEYS, f"stock {name}")
    remnant = row.get("remnant", False)
    if not isinstance(remnant, bool):
        raise ProblemError(f'"remnant" of stock {name} must be true or false')
    return Stock(name, _length(row, f"stock {name}"), row.get("count"), row.get("cost"), remnant, row.get("trim"))


def _demand(row: dict[str, Any], number: int) -> Demand:
    name = _text(row, f'entry {number} of "demand"')
    _only(row, DEMAND_KEYS, f"piece {name}")
    return Demand(name, _length(row, f"piece {name}"), row.get("count", 1))


def _length(row: dict[str, Any], where: str) -> Any:
    if "length" not in row:
        raise ProblemError(f'{where} needs a "length"')
    return row["length"]


def _seconds(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < inf:
        raise ProblemError(f'"seconds" must be a number of seconds, not {str(value)[:40]}')
    return float(min(value, MOST_SECONDS))  # a whole number may be longer than a float holds
