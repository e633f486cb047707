"""Which spool goes on which bench: due time first, then the bench that would have it done soonest, with the reason."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from geometry.tables.odd_sizes import say_size
from spools.flow.machine_limits import Takes

CHANGE_OVER_H = 20 / 60  # setting a bench up for another size: 20 minutes, from memory of the trade


@dataclass(frozen=True, slots=True)
class Work:
    """One spool that needs a bench; ``left_h`` is the working time until it is due."""

    spool_id: int
    label: str
    nps: str
    hours: float
    basis: str
    due_at: datetime
    left_h: float
    rush: bool = False
    schedule: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """One bench: what it takes, the size it is set up for, and the hours already in front of it."""

    bench_id: int
    name: str
    takes: Takes
    set_up: str
    hours: float


@dataclass(frozen=True, slots=True)
class Move:
    """One spool to one bench, and why."""

    spool_id: int
    label: str
    nps: str
    bench_id: int
    bench: str
    hours: float
    done_in_h: float
    reason: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """What goes where, what fits nowhere, and the hours of each bench before and after."""

    moves: tuple[Move, ...]
    nowhere: tuple[Work, ...]
    loads: tuple[tuple[str, float, float], ...]


@dataclass(slots=True)
class _Filling:
    """A bench while it is being filled."""

    place: Place
    hours: float = field(init=False)
    set_up: str = field(init=False)

    def __post_init__(self) -> None:
        self.hours, self.set_up = self.place.hours, self.place.set_up

    def change_over(self, nps: str) -> float:
        return CHANGE_OVER_H if self.set_up and self.set_up != nps else 0.0

    def done_in(self, work: Work) -> float:
        return self.hours + self.change_over(work.nps) + work.hours


def propose(works: Sequence[Work], places: Sequence[Place]) -> Proposal:
    """Share spools out over benches that can take them.

    Rushes first, then by due time; each goes where it is done soonest, the change-over to its size counted in. Without
    change-overs this is list scheduling, at most 2 - 1/m times the best possible end with m benches (R. L. Graham,
    "Bounds for certain multiprocessing anomalies", Bell System Technical Journal 45, 1966).

    >>> noon = datetime(2026, 11, 24, 18)
    >>> works = [Work(n, str(n), "6", 1.0, "assumed", noon, 8.0) for n in (1, 2)]
    >>> places = [Place(1, "1", Takes(), "6", 0.0), Place(2, "2", Takes(), "6", 0.5)]
    >>> [move.bench for move in propose(works, places).moves]
    ['1', '2']
    """
    filling = [_Filling(place) for place in places]
    moves: list[Move] = []
    nowhere: list[Work] = []
    for work in sorted(works, key=lambda one: (not one.rush, one.due_at, one.spool_id)):
        able = [one for one in filling if not one.place.takes.refusal(work.nps, work.schedule)]
        if not able:
            nowhere.append(work)
            continue
        best = min(able, key=lambda one: (round(one.done_in(work), 4), one.change_over(work.nps), one.place.name))
        moves.append(_move(work, best, able))
        best.hours, best.set_up = best.done_in(work), work.nps
    loads = tuple((one.place.name, round(one.place.hours, 1), round(one.hours, 1)) for one in filling)
    return Proposal(tuple(moves), tuple(nowhere), loads)


def _move(work: Work, best: _Filling, able: Sequence[_Filling]) -> Move:
    done_in = best.done_in(work)
    return Move(
        work.spool_id,
        work.label,
        work.nps,
        best.place.bench_id,
        best.place.name,
        round(work.hours, 2),
        round(done_in, 1),
        "; ".join((_why(work, best, able), f"{work.hours:.1f} h ({work.basis})", _in_time(work, done_in))),
    )


def _why(work: Work, best: _Filling, able: Sequence[_Filling]) -> str:
    changes = best.change_over(work.nps) > 0
    if len(able) == 1:
        only = f"the only bench up that takes {say_size(work.nps)}"
        return f"{only}, changes over from {say_size(best.set_up)}" if changes else only
    front = f"{best.hours:.1f} h in front" if best.hours >= 0.05 else "free now"
    if not changes:
        return f"set up for {say_size(work.nps)}, {front}" if best.set_up else front
    return f"{front}; even with the change-over from {say_size(best.set_up)} sooner than elsewhere"


def _in_time(work: Work, done_in: float) -> str:
    left = work.left_h - done_in
    if left >= 0:
        return f"done {left:.1f} h before it is due"
    return f"{-left:.1f} h late at the soonest" if work.left_h >= 0 else "late already"
