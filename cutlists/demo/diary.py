"""The month as a queue of deeds, each at its moment; what is decided on the way goes back into the queue."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from heapq import heappop, heappush
from math import inf

from cutlists.demo.ground import Ground
from cutlists.demo.lots import Lot
from cutlists.demo.month import Month
from spools.models import Spool

Deed = Callable[[datetime], object]


@dataclass
class Diary:
    """What will happen, what each tie-in's present build is, and how far the month has been played."""

    month: Month
    ground: Ground
    lots: dict[int, Lot]
    spools: dict[int, Spool] = field(default_factory=dict)
    lot_of: dict[int, Lot] = field(default_factory=dict)
    now: float = 0.0
    nail: deque[str] = field(default_factory=deque)
    _queue: list[tuple[float, int, Deed]] = field(default_factory=list)
    _order: int = 0
    _keys: int = 0

    def put(self, tick: float, deed: Deed) -> None:
        """Put a deed on its moment; at the same moment the one put first goes first."""
        self._order += 1
        heappush(self._queue, (tick, self._order, deed))

    def on(self, day: int, clock: str, deed: Deed) -> None:
        """Put a deed on a clock time of a worked day."""
        self.put(self.month.tick(day, clock), deed)

    def play(self, *, until: float = inf) -> int:
        """Do everything up to a moment in order; returns how many deeds were done."""
        done = 0
        while self._queue and self._queue[0][0] < until:
            self.now, _, deed = heappop(self._queue)
            deed(self.month.moment(self.now))
            done += 1
        return done

    def key(self) -> str:
        """Return the next caller's key."""
        self._keys += 1
        return f"demo-{self.ground.shop.id}-{self._keys}"

    def begin(self, lot: Lot, spool: Spool) -> None:
        """Take a released spool as the tie-in's present build."""
        self.spools[lot.mark] = spool
        self.lot_of[spool.id] = lot

    def spool_id(self, mark: int) -> int:
        """Return the present build of a tie-in."""
        return self.spools[mark].id

    def told(self, story: str) -> tuple[Lot, ...]:
        """Return the lots that tell a story, in the order of receipt."""
        return tuple(lot for lot in self.lots.values() if lot.story == story)
