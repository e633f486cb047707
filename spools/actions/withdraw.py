"""What must be taken back when a step is taken back: everything that physically stands on it."""

from spools.flow.routes import SPOOL, Route, piece_of
from spools.flow.status import Standing
from spools.flow.steps import BY_CODE, dependents

Withdrawals = tuple[tuple[str, tuple[str, ...]], ...]


def withdrawals(code: str, route: Route, standing: Standing, *, piece: str = "") -> Withdrawals:
    """Return what to withdraw so that a step can be done again, for the spool or for one piece."""
    pairs = []
    for step in (code, *dependents(code)):
        done = [
            t
            for t in standing.done.get(step, ())
            if not piece or BY_CODE[step].on == "spool" or t == SPOOL or piece_of(t) == piece
        ]
        if done:
            pairs.append((step, tuple(done)))
    return tuple(pairs)
