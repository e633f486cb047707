"""Readings as the crews bring them, jig checks, and what the foreman releases by name."""

from dataclasses import replace
from datetime import datetime
from functools import partial

from cutlists.demo.as_typed import JigSide, Off, typed
from cutlists.demo.building import build
from cutlists.demo.diary import Diary
from cutlists.demo.gallery import Place, gallery
from cutlists.demo.ground import JIG_1, JIG_2, JIG_2_MENDED
from cutlists.demo.lots import RELEASE_AFTER, Lot
from spools.actions.release_spool import release_spool
from spools.actions.scrap_spool import scrap_spool
from spools.actions.take_reading import Taken, take_reading
from spools.models import SetPoints, Spool
from spools.solving import Typed

JIG_2_LOCKED, JIG_2_BACK = (12, "13:50"), (13, "13:05")
NOTES = {"three legs": "a third leg: NPS 3 cleanout branch on leg A"}


def measure(diary: Diary) -> None:
    """Put every reading of the month on the moment when the shop receives it."""
    for lot in diary.lots.values():
        diary.put(lot.stop.received, partial(_receive, diary, lot))


def jig_of(diary: Diary, crew: int, tick: float) -> tuple[SetPoints, JigSide]:
    """Return the set points a crew reads with; while jig 2 is locked, its crew has jig 1."""
    locked, back = (diary.month.tick(*moment) for moment in (JIG_2_LOCKED, JIG_2_BACK))
    if crew == 1 or locked <= tick < back:
        number, sides = 1, JIG_1
    else:
        number, sides = 2, JIG_2 if tick < back else JIG_2_MENDED
    newest = diary.ground.jigs[number].set_points.order_by("-version").first()
    assert newest is not None  # noqa: S101  every jig has its first version from day 1
    return newest, sides


def read(
    diary: Diary, lot: Lot, at: datetime, *, off: Off = Off.NOTHING, place: Place | None = None, note: str = ""
) -> Taken:
    """Take one reading of a tie-in, typed the way the crew's hand types; a second one is sent as measured again."""
    again = lot.mark in diary.spools
    taken = lot.stop.taken if not again else diary.now - 25
    points, sides = jig_of(diary, 1 if again else lot.stop.crew, taken)
    person = diary.ground.crew.field[1 if again else lot.stop.crew]
    found = take_reading(
        tie_in_id=diary.ground.tie_ins[lot.mark].id,
        set_points_id=points.id,
        typed=_typed(lot, sides, person.last_name, off=off, place=place, note=note, again=again),
        person=person,
        key=diary.key(),
        at=at,
        taken_at=diary.month.moment(taken),
        keep_anyway=off is Off.OVER,
        again=again,
    )
    if found.spool is not None:
        begin(diary, lot, found.spool)
    return found


def begin(diary: Diary, lot: Lot, spool: Spool) -> None:
    """Take a released spool as the tie-in's present build and put its work on its moments."""
    diary.begin(lot, spool)
    build(diary, lot, lot.making_of(spool.build))


def make_again(diary: Diary, lot: Lot, at: datetime, *, why: str, released: str) -> None:
    """Scrap the present build and release the newest reading; the clock start and the due time are inherited."""
    foreman = diary.ground.crew.foreman
    scrap_spool(spool_id=diary.spool_id(lot.mark), person=foreman, key=diary.key(), at=at, reason=why)
    release(diary, lot, at, reason=released)


def release(diary: Diary, lot: Lot, at: datetime, *, reason: str) -> None:
    """Release the newest reading of a tie-in by name."""
    newest = diary.ground.tie_ins[lot.mark].readings.latest("revision")
    foreman = diary.ground.crew.foreman
    spool = release_spool(reading_id=newest.id, person=foreman, key=diary.key(), at=at, reason=reason)
    begin(diary, lot, spool)


def moved(mark: int, *, leg_a_in: float = 0.0, leg_b_in: float = 0.0, turn_deg: float = 0.0) -> Place:
    """Return a place after something there was moved."""
    place = gallery()[mark]
    return replace(
        place,
        leg_a_in=place.leg_a_in + leg_a_in,
        leg_b_in=place.leg_b_in + leg_b_in,
        turn_deg=place.turn_deg + turn_deg,
    )


def _receive(diary: Diary, lot: Lot, at: datetime) -> None:
    if lot.story == "released late":
        read(diary, lot, at, off=Off.OVER)
        reason = "C is 1/8 in and a little off; read twice by the crew, the coupling takes it"
        diary.put(lot.stop.received + RELEASE_AFTER, lambda then: release(diary, lot, then, reason=reason))
    elif lot.story in ("doubtful, wrong", "doubtful, cut wrong"):
        read(diary, lot, at, off=Off.JIG)
    else:
        read(diary, lot, at, note=NOTES.get(lot.story, ""))


def _typed(lot: Lot, sides: JigSide, hand: str, *, off: Off, place: Place | None, note: str, again: bool) -> Typed:
    return typed(place or gallery()[lot.mark], sides, hand=hand, off=off, take=2 if again else 1, note=note)
