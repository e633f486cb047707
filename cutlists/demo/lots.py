"""What becomes of every tie-in that was read: which story it tells, when it is due, and its builds."""

from collections import Counter
from dataclasses import dataclass

from cutlists.demo.fates import FATES, Making, in_time
from cutlists.demo.month import DAY_MINUTES, Month
from cutlists.demo.scenario import DUE_BY_WEEK, LAST_BATCH, LAST_DAY, ON_TIME_BY_WEEK, RELEASED_BY_FOREMAN, SEATS
from cutlists.demo.walk import Stop, walk

CUT_OFF_MINUTE = 480
RELEASE_AFTER = 35.0
GROOVER_FIRST, GROOVER_SECOND = 7, 9


@dataclass(frozen=True, slots=True)
class Lot:
    """One tie-in's month: its reading, its story if it has one, when it is due, and its builds one after the other."""

    stop: Stop
    story: str
    due: float
    makings: tuple[Making, ...]

    @property
    def mark(self) -> int:
        """The tie-in's number."""
        return self.stop.mark

    def making_of(self, build: int) -> Making:
        """Return how one of its builds goes, the first being 1."""
        return self.makings[min(build, len(self.makings)) - 1]

    @property
    def accepted(self) -> float | None:
        """When the build that counts is accepted."""
        return self.makings[-1].accept


def lots_of(month: Month) -> tuple[Lot, ...]:
    """Return the month's lots in the order of receipt."""
    lots = tuple(_lot(month, stop, story) for stop, story in _with_stories(walk(month)))
    _as_promised(month, lots)
    return lots


def _with_stories(stops: tuple[Stop, ...]) -> list[tuple[Stop, str]]:
    by_seat = {seat: story for story, seat in SEATS.items()} | dict.fromkeys(RELEASED_BY_FOREMAN, "released late")
    day_7 = [stop for stop in stops if stop.seat and stop.seat[0] == 7][-GROOVER_FIRST:]
    after = [stop for stop in stops if stop.seat and stop.seat[0] >= 8][:GROOVER_SECOND]
    by_mark = {stop.mark: "groover, first" for stop in day_7} | {stop.mark: "groover, second" for stop in after}
    last = [stop for stop in stops if stop.seat is None]
    stories = [story for story, number in LAST_BATCH for _ in range(number)]
    by_mark |= {stop.mark: story for stop, story in zip(last, stories, strict=True)}
    return [(stop, by_mark.get(stop.mark) or by_seat.get(stop.seat or (0, 0, 0, 0)) or _jig(stop)) for stop in stops]


def _jig(stop: Stop) -> str:
    """Name the readings that jig 2 made doubtful: 10 were right after all, 4 were not, one of these was cut."""
    if stop.seat is None or stop.crew != 2 or stop.seat[0] not in (11, 12):
        return ""
    day, _, batch, place = stop.seat
    if day == 11:
        return "doubtful, right"
    if batch == 1:
        return "doubtful, wrong"
    return ("doubtful, welded", "doubtful, waited", "doubtful, waited", "doubtful, cut wrong")[place]


def _lot(month: Month, stop: Stop, story: str) -> Lot:
    start = stop.received + (RELEASE_AFTER if story == "released late" else 0.0)
    due = start + DAY_MINUTES
    if stop.received % DAY_MINUTES > CUT_OFF_MINUTE:
        due = month.tick(LAST_DAY, "06:00") + 2 * DAY_MINUTES
    fate = FATES.get(story)
    return Lot(stop, story, due, fate(month, stop, due) if fate else (in_time(month, stop, due, start),))


def _as_promised(month: Month, lots: tuple[Lot, ...]) -> None:
    """Refuse a month that doesn't add up to the scenario, before anything is played."""
    end = month.tick(LAST_DAY, "16:29")
    due: Counter[int] = Counter()
    on_time: Counter[int] = Counter()
    for lot in lots:
        if lot.due <= end:
            week = month.due_on()[month.day_of(lot.due)][0]
            due[week] += 1
            on_time[week] += lot.accepted is not None and lot.accepted <= lot.due
    found = [(due[week], on_time[week]) for week in range(len(DUE_BY_WEEK))]
    wanted = list(zip(DUE_BY_WEEK, ON_TIME_BY_WEEK, strict=True))
    if found != wanted:
        raise ValueError(f"The month does not add up: {found} due and on time instead of {wanted}.")
