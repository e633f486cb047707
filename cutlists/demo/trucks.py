"""Trucks to the galvanizer and back, and from the yard to the site."""

from dataclasses import dataclass
from datetime import datetime
from functools import partial
from itertools import pairwise

from cutlists.demo.diary import Diary
from cutlists.demo.hanging import hang
from cutlists.demo.month import Month
from cutlists.demo.scenario import COUNTS, GALVANIZER, LAST_DAY, SITE
from cutlists.demo.yard import COUNTER, sign, weigh
from spools.actions.count_back import count_back, report_missing
from spools.actions.deliver import deliver
from spools.actions.load_truck import Placed, load_truck
from spools.models import Load
from spools.queries.load_proposal import RACK_HOLDS

RECEIVER = "B. Osei, Brannock & Osei"
TUESDAY, FRIDAY = 1, 4
FIRST_TRUCK, SPLIT_DAY, LOST_DAY = 5, 19, 20
OUT_AT, SECOND_TRIP_AT, BACK_AT, TO_SITE_AT, SAME_DAY_AT = "10:40", "13:00", "13:10", "07:00", "13:20"
LOADED_AFTER = 25.0
SPLIT = (22, 9)
AWAY_DAYS = 2
LOST = "lost at the galvanizer"


@dataclass(frozen=True, slots=True)
class Trip:
    """One load to the galvanizer: which marks, when it leaves, is counted back, and which of it go to site when."""

    marks: tuple[int, ...]
    out: float
    back: float | None = None
    site: float | None = None
    to_site: tuple[int, ...] = ()


def truck_days(month: Month) -> tuple[int, ...]:
    """Return the days of the truck: Tuesday and Friday, or the next worked day; day 19 and the last day besides."""
    dates = [day for day in month.days if day.weekday() in (TUESDAY, FRIDAY)]
    usual = {next(number for number in month.worked if month.days[number - 1] >= day) for day in dates}
    return tuple(sorted({day for day in usual if day >= FIRST_TRUCK} | {SPLIT_DAY, LAST_DAY}))


def trips_of(diary: Diary) -> tuple[Trip, ...]:
    """Return the month's trips: by the order of acceptance, so that each place holds as many as it must at the end."""
    month = diary.month
    order = sorted((lot.accepted, lot.mark) for lot in diary.lots.values() if lot.accepted is not None)
    days = truck_days(month)
    edges = _edges(month, days, [accepted + LOADED_AFTER for accepted, _ in order])
    in_yard = {mark for _, mark in order[COUNTS.delivered : COUNTS.delivered + COUNTS.back_in_yard]}
    found: list[Trip] = []
    for day, (start, edge) in zip(days, pairwise([0, *edges]), strict=True):
        marks = tuple(mark for _, mark in order[start:edge]) + _first_builds(diary, days, day)
        out = month.tick(day, OUT_AT)
        if day == SPLIT_DAY:
            found.append(_trip(diary, days, marks[: SPLIT[0]], out, in_yard))
            marks, out = marks[SPLIT[0] :], month.tick(day, SECOND_TRIP_AT)
        found.append(_trip(diary, days, marks, out, in_yard))
    return tuple(found)


def _trip(diary: Diary, days: tuple[int, ...], marks: tuple[int, ...], out: float, in_yard: set[int]) -> Trip:
    """Return a trip with its way back: a later truck brings it, from there it goes to site the next morning."""
    month, day = diary.month, diary.month.day_of(out)
    if day == LAST_DAY:
        return Trip(marks, out)
    lost = {lot.mark for lot in diary.told(LOST)}
    back = next(later for later in days if later >= day + AWAY_DAYS or later == LAST_DAY)
    if lost & set(marks):
        back = LOST_DAY
    site = month.tick(back, SAME_DAY_AT) if back == LAST_DAY else month.tick(month.next_worked()[back], TO_SITE_AT)
    to_site = tuple(mark for mark in marks if mark not in lost | in_yard)
    return Trip(marks, out, month.tick(back, BACK_AT), site, to_site)


def _first_builds(diary: Diary, days: tuple[int, ...], day: int) -> tuple[int, ...]:
    """Return the marks that go with this truck as a build that will be replaced."""
    earlier = days[days.index(day) - 1] if day != days[0] else 1
    since, until = (diary.month.tick(number, OUT_AT) - LOADED_AFTER for number in (earlier, day))
    return tuple(
        lot.mark
        for lot in diary.lots.values()
        if len(lot.makings) == 2 and lot.makings[0].accept is not None and since < lot.makings[0].accept <= until
    )


def _edges(month: Month, days: tuple[int, ...], ready: list[float]) -> list[int]:
    """Return how many spools have left with each day's truck and those before it."""

    def by(day: int) -> int:
        return sum(moment <= month.tick(day, OUT_AT) for moment in ready)

    last = COUNTS.accepted - COUNTS.ready_for_coating
    before = days[days.index(SPLIT_DAY) - 1]
    fixed = {LAST_DAY: last, days[-2]: last - COUNTS.at_galvanizer}
    fixed[before] = min(by(before), by(SPLIT_DAY) - sum(SPLIT))
    fixed[SPLIT_DAY] = fixed[before] + sum(SPLIT)
    return [fixed.get(day) or by(day) for day in days]


def run_trucks(diary: Diary) -> None:
    """Put every trip of the month on its moments."""
    for trip in trips_of(diary):
        diary.put(trip.out, partial(_send, diary, trip))


def _send(diary: Diary, trip: Trip, at: datetime) -> None:
    load = load_truck(
        kind=Load.Kind.COATING,
        going_to=GALVANIZER,
        spool_ids=[diary.spool_id(mark) for mark in trip.marks],
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
        placed=_racks(diary, trip.marks),
    )
    weigh(diary, load, trip.marks, at, back=False)
    sign(diary, load, "handed over", COUNTER, at)
    if trip.back is not None:
        diary.put(trip.back, partial(_count_back, diary, trip, load))


def _racks(diary: Diary, marks: tuple[int, ...]) -> Placed:
    """Put a truck's spools on racks in their order."""
    return Placed(rack={diary.spool_id(mark): str(place // RACK_HOLDS + 1) for place, mark in enumerate(sorted(marks))})


def _count_back(diary: Diary, trip: Trip, load: Load, at: datetime) -> None:
    lost = {lot.mark for lot in diary.told(LOST)} & set(trip.marks)
    here = [mark for mark in trip.marks if mark not in lost]
    count_back(
        load_id=load.id,
        spool_ids=[diary.spool_id(mark) for mark in here],
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
    )
    weigh(diary, load, here, at, back=True)
    sign(diary, load, "back", COUNTER, at)
    for mark in lost:
        diary.put(diary.now + 35, partial(_miss, diary, mark, load))
    if trip.site is not None and trip.to_site:
        diary.put(trip.site, partial(_to_site, diary, trip.to_site))


def _miss(diary: Diary, mark: int, load: Load, at: datetime) -> None:
    report_missing(
        load_id=load.id,
        spool_id=diary.spool_id(mark),
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
        reason="not on the truck; the counter has no line for its tag and looks through the racks",
    )


def _to_site(diary: Diary, marks: tuple[int, ...], at: datetime) -> None:
    load = load_truck(
        kind=Load.Kind.SITE,
        going_to=SITE,
        spool_ids=[diary.spool_id(mark) for mark in marks],
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
    )
    diary.put(diary.now + 130, partial(_deliver, diary, marks, load))


def _deliver(diary: Diary, marks: tuple[int, ...], load: Load, at: datetime) -> None:
    deliver(
        load_id=load.id,
        spool_ids=[diary.spool_id(mark) for mark in marks],
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
        receiver=RECEIVER,
    )
    sign(diary, load, "received", RECEIVER, at)
    hang(diary, marks)
