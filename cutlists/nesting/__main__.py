"""A problem as JSON in, the plan as JSON out: ``python -m cutlists.nesting < problem.json``.

Every length is a whole number of one unit, the smallest that is measured:

    {"kerf": 2, "trim": 0, "keep_from": 40, "seconds": 10,
     "stock": [{"id": "R21", "length": 252}, {"id": "D1", "length": 70, "count": 1, "remnant": true}],
     "demand": [{"id": "A", "length": 82, "count": 6}, {"id": "B", "length": 70}]}

    kerf            what the blade takes at each cut between pieces; trim: what comes off each bar first
    keep_from       the shortest drop worth keeping; drop_price: what each drop kept counts as scrap (keep_from)
    seconds         how long to look for a better plan, 10 when left out
    stock           id, length; count (as many as asked for), cost (the length), remnant (true: costs nothing), trim
    demand          id, length; count (1)

Any other key is refused. Exit 0 with a plan and what is known of it: ``proven``, or how far it can be from the best;
1 when the stock doesn't suffice, 2 with one line when the problem can't be read.
"""

from __future__ import annotations

import json
import sys

from cutlists.nesting.problem import NotEnoughStock, ProblemError
from cutlists.nesting.reading import plan_as_json, read_problem
from cutlists.nesting.solve import solve


def main() -> int:
    """0: a plan is printed; 1: the stock doesn't suffice; 2: the input can't be read."""
    try:
        problem, seconds = read_problem(sys.stdin.read())
    except (ProblemError, UnicodeDecodeError) as trouble:
        sys.stderr.write(f"can't read the problem: {_one_line(trouble)}\n")
        return 2
    try:
        plan = solve(problem, seconds=seconds)
    except NotEnoughStock as trouble:
        sys.stderr.write(f"{_one_line(trouble)}\n")
        return 1
    sys.stdout.write(json.dumps(plan_as_json(plan)) + "\n")
    return 0


def _one_line(trouble: Exception) -> str:
    """An id may hold a line break; what is said of it stays on one line."""
    return " ".join(str(trouble).split())


if __name__ == "__main__":
    sys.exit(main())
