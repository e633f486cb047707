"""python -m cutlists.nesting: what goes in, what comes out, and how it refuses."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

GOOD = {
    "kerf": 2,
    "trim": 0,
    "keep_from": 40,
    "stock": [
        {"id": "R21", "length": 252, "count": None},
        {"id": "D1", "length": 70, "count": 1, "remnant": True},
    ],
    "demand": [{"id": "A", "length": 82, "count": 6}, {"id": "B", "length": 70, "count": 1}],
    "seconds": 10,
}


def run(text: str) -> tuple[int, str, str]:
    """Exit code, output, and what was said on standard error."""
    done = subprocess.run(
        [sys.executable, "-m", "cutlists.nesting"], input=text, capture_output=True, text=True, timeout=120, check=False
    )
    return done.returncode, done.stdout, done.stderr


def test_a_problem_gives_a_plan_with_every_key() -> None:
    code, out, _ = run(json.dumps(GOOD))
    plan = json.loads(out)
    assert code == 0
    assert plan["bars_used"] == 3
    assert plan["stock_length_used"] == plan["lower_bound"] == 504
    assert plan["proven"] is True
    assert {"stock": "R21", "cuts": ["A", "A", "A"], "times": 2, "drop": 0} in plan["bars"]
    assert {"stock": "D1", "cuts": ["B"], "times": 1, "drop": 0} in plan["bars"]
    assert plan["seconds"] >= 0


def test_a_cost_replaces_the_length_as_what_a_bar_counts() -> None:
    costly = {**GOOD, "stock": [{"id": "R", "length": 250, "count": None, "cost": 1}]}
    code, out, _ = run(json.dumps(costly))
    assert code == 0
    assert json.loads(out)["stock_length_used"] == 3


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not JSON"),
        ("[]", "give an object"),
        ("{}", '"stock" must be a list'),
        (json.dumps({**GOOD, "kerf": 0.5}), "kerf must be a whole number"),
        (json.dumps({**GOOD, "trim": -1}), "trim is -1"),
        (json.dumps({**GOOD, "seconds": "soon"}), '"seconds" must be a number'),
        (json.dumps({**GOOD, "stock": [{"id": "R"}]}), 'stock R needs a "length"'),
        (json.dumps({**GOOD, "stock": [{"length": 4}]}), 'needs an "id"'),
        (json.dumps({**GOOD, "stock": [7]}), "must be an object"),
        (json.dumps({**GOOD, "stock": [{"id": "R", "length": 10**12}]}), "coarser unit"),
        (json.dumps({**GOOD, "demand": [{"id": "A", "length": 9}, {"id": "A", "length": 8}]}), "give each its own id"),
        (json.dumps({**GOOD, "demand": [{"id": "A", "length": 9, "count": 10**7}]}), "several lots"),
        (json.dumps({**GOOD, "kerfs": 3}), "'kerfs' is no key of a problem: use kerf"),
        (json.dumps({**GOOD, "demand": [{"id": "A", "length": 9, "qty": 4}]}), "'qty' is no key of piece A"),
        (json.dumps({**GOOD, "stock": [{"id": "R", "length": 9, "remnants": True}]}), "no key of stock R"),
        (json.dumps({**GOOD, "seconds": -1}), '"seconds" must be a number'),
        ('{"kerf": 2, "stock": [], "demand": [], "seconds": NaN}', '"seconds" must be a number'),
    ],
)
def test_what_can_not_be_read_ends_with_2_and_one_line_that_says_why(text: str, words: str) -> None:
    code, out, said = run(text)
    assert code == 2
    assert out == ""
    assert said.count("\n") == 1
    assert words in said


def test_a_piece_that_no_stock_holds_ends_with_1_and_its_name() -> None:
    long = {**GOOD, "demand": [{"id": "LONG", "length": 253, "count": 1}]}
    code, out, said = run(json.dumps(long))
    assert (code, out) == (1, "")
    assert "LONG (253)" in said


def test_seconds_longer_than_a_number_holds_are_as_good_as_many() -> None:
    code, out, said = run(json.dumps({**GOOD, "seconds": 10**400}))
    assert (code, said) == (0, "")
    assert json.loads(out)["proven"] is True


def test_an_id_with_a_line_break_is_named_on_one_line() -> None:
    code, _, said = run(json.dumps({**GOOD, "demand": [{"id": "LO\nNG", "length": 253, "count": 1}]}))
    assert (code, said.count("\n")) == (1, 1)
    assert "LO NG (253)" in said


def test_stock_that_does_not_suffice_ends_with_1_and_the_pieces_left_over() -> None:
    short = {**GOOD, "stock": [{"id": "R21", "length": 252, "count": 1}]}
    code, _, said = run(json.dumps(short))
    assert code == 1
    assert "doesn't suffice" in said
    assert "A" in said
