"""How long the benches need: this shop's own welds of the last weeks, and what is left to do on one spool."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from spools.flow.bench_hours import BenchHours, Hours, Past
from spools.models import Event, Spool

TAUGHT_BY = 400  # the newest welds teach; older ones may be of another crew
SHORTEST, LONGEST = timedelta(minutes=3), timedelta(hours=5)
ACCEPT_H = 0.1  # from memory of the trade
LATELY = timedelta(hours=14)  # who welded there in this shift
Weld = tuple[int, datetime, str, str, str, str]


@dataclass(frozen=True, slots=True)
class NewestWelds:
    """What the newest welds teach, and who welded last at each bench in this shift."""

    hours: BenchHours
    who: dict[int, str]


def newest_welds(shop_id: int, *, at: datetime) -> NewestWelds:
    """Return what the newest welds say (one query)."""
    welds = sorted(
        Event.objects.filter(spool__shop_id=shop_id, code="welded", entered_later=False, bench__isnull=False)
        .order_by("-received_at", "-id")
        .values_list("bench_id", "done_at", "spool__nps", "spool__bend_kind", "person__last_name", "person__username")[
            :TAUGHT_BY
        ]
    )
    who = {bench: last_name or username for bench, done_at, _, _, last_name, username in welds if at - done_at < LATELY}
    return NewestWelds(BenchHours(_past(welds)), who)


def _past(welds: Iterable[Weld]) -> Iterable[Past]:
    """Yield how long each weld took: since the one before it on the same bench.

    Over a night or a long stop nothing is learned; lunch and waiting are in it, as they are in the next one's time.
    """
    before: tuple[int, datetime] | None = None
    for bench, done_at, nps, make_up, *_ in welds:
        if before and before[0] == bench and SHORTEST <= done_at - before[1] <= LONGEST:
            yield Past(nps, make_up, (done_at - before[1]) / timedelta(hours=1))
        before = (bench, done_at)


def hours_left(spool: Spool, learned: BenchHours) -> Hours:
    """Return the bench hours that a spool still needs, with what the weld's part rests on."""
    standing, route = spool.the_standing, spool.the_route
    if standing.passed("welded", route):
        return Hours(ACCEPT_H, "welded, to be accepted")
    ends = sum(len(standing.missing(code, route)) for code in ("grooved", "beveled"))
    weld = learned.to_weld(spool.nps, spool.bend_kind, welds=route.welds)
    return Hours(weld.hours + learned.to_prepare(spool.nps, ends=ends), weld.basis)
