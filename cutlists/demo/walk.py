"""Who measures which tie-in when: two crews, two walks a day, and the phones sent at the shaft."""

from collections.abc import Iterator
from dataclasses import dataclass

from cutlists.demo.chance import dice
from cutlists.demo.month import Month
from cutlists.demo.scenario import COUNTS, LAST_DAY, LAST_WELDED, MARK_OF, SEATS, Seat

EAST_CREW, WEST_CREW = 1, 2
# When a crew's phone sends what it has kept: before noon and after.
SENT_AT = {(1, 0): "09:10", (2, 0): "11:10", (1, 1): "13:20", (2, 1): "13:40"}
LAST_SENT_AT = {1: "14:03", 2: "14:06"}
# On these days the crew with jig 2 brings as many as its doubtful readings must be.
JIG_2_DAYS = {11: 7, 12: 7}
# Where each crew's walk begins and ends: the east crew turns back to the first shaft when it meets the other.
WALKS = {EAST_CREW: (*range(43, 128), *range(1, 43)), WEST_CREW: tuple(range(128, 249))}


@dataclass(frozen=True, slots=True)
class Stop:
    """One tie-in read by a crew: taken in the hole, received by the shop when the phone sends (shop time)."""

    mark: int
    crew: int
    seat: Seat | None
    taken: float
    received: float


def walk(month: Month) -> tuple[Stop, ...]:
    """Return the month's stops in the order in which the shop received them."""
    batches = [*_batches(month), *_last_batches()]
    marks = _marks([(crew, size) for _, crew, _, size in batches], _seated(batches))
    stops: list[Stop] = []
    for day, crew, batch, size in batches:
        last = day == LAST_DAY
        sent = month.tick(day, LAST_SENT_AT[crew] if last else SENT_AT[crew, batch])
        throw = dice("walk", day, crew, batch)
        sent += throw.uniform(0, 1.5)
        for place in range(size):
            each = throw.uniform(20, 25) if last else throw.uniform(9.5, 12.5)
            taken = sent - 14 - (size - 1 - place) * each
            seat = None if last else (day, crew, batch, place)
            stops.append(Stop(next(marks), crew, seat, max(taken, 0.0), sent + place * 0.04))
    return tuple(sorted(stops, key=lambda stop: stop.received))


def _batches(month: Month) -> list[tuple[int, int, int, int]]:
    """Return (day, crew, batch, how many), so that as many come due on each day as the scenario says."""
    due_on, found = month.due_on(), []
    for day, due_day in month.next_worked().items():
        if due_day not in due_on:
            continue
        of_day = due_on[due_day][1]
        west = JIG_2_DAYS.get(day, of_day // 2)
        for crew, size in ((EAST_CREW, of_day - west), (WEST_CREW, west)):
            found += [(day, crew, 0, size - size // 2), (day, crew, 1, size // 2)]
    return found


def _last_batches() -> list[tuple[int, int, int, int]]:
    """Return what both crews bring up on the last day after the cut-off: a day without signal."""
    not_due = COUNTS.in_work - 6
    return [(LAST_DAY, EAST_CREW, 1, not_due - not_due // 2), (LAST_DAY, WEST_CREW, 1, not_due // 2)]


def _seated(batches: list[tuple[int, int, int, int]]) -> dict[int, int]:
    """Return the marks that must sit at a place of the whole month, by that place."""
    wanted = {SEATS[story]: mark for story, mark in MARK_OF.items()}
    found, place = {}, 0
    for day, crew, batch, size in batches:
        for number in range(size):
            if (day, crew, batch, number) in wanted:
                found[place] = wanted[day, crew, batch, number]
            place += 1
    found[place - batches[-1][3] - batches[-2][3]] = LAST_WELDED
    return found


def _marks(parts: list[tuple[int, int]], seated: dict[int, int]) -> Iterator[int]:
    """Yield a mark for each stop in turn: the crews' own walks, the seated ones taken out and put in their places."""
    taken = set(seated.values())
    left = {crew: [mark for mark in marks if mark not in taken] for crew, marks in WALKS.items()}
    place = 0
    for crew, size in parts:
        for _ in range(size):
            if place in seated:
                yield seated[place]
            else:
                own = left[crew] or left[EAST_CREW + WEST_CREW - crew]
                yield own.pop(0)
            place += 1
