"""The jigs' month: a check before each shift, the one that failed with its doubtful readings, one mark read twice."""

from datetime import datetime
from functools import partial

from cutlists.demo.as_typed import typed
from cutlists.demo.chance import dice
from cutlists.demo.diary import Diary
from cutlists.demo.gallery import gallery
from cutlists.demo.ground import JIG_2_MENDED, constants
from cutlists.demo.lots import Lot
from cutlists.demo.measuring import JIG_2_BACK, JIG_2_LOCKED, jig_of, make_again, read
from cutlists.demo.scenario import LAST_DAY
from spools.actions.check_jig import MasterPosition, check_jig
from spools.actions.hold_doubtful import hold_doubtful
from spools.actions.hold_spool import hold_spool
from spools.actions.keep_jig import follow_set_points
from spools.actions.let_go import let_go
from spools.actions.take_reading import take_reading
from spools.errors import ShopError
from spools.queries.doubtful import sweeps

FIRST_DAY = 3
OFF_DEG = -0.8
DOUBTFUL = ("doubtful, right", "doubtful, welded", "doubtful, waited", "doubtful, cut wrong", "doubtful, wrong")
READ_AGAIN = ("doubtful, cut wrong", "doubtful, wrong")


def run_jigs(diary: Diary) -> None:
    """Put the checks and what followed from the bad one on their moments."""
    for day in diary.month.worked:
        if not FIRST_DAY <= day <= LAST_DAY:
            continue
        diary.on(day, "06:04", partial(_check, diary, 1, 0.0))
        if day not in (JIG_2_LOCKED[0], JIG_2_BACK[0]):  # on day 12 nobody checked before the walk
            diary.on(day, "06:07", partial(_check, diary, 2, 0.0))
    diary.on(*JIG_2_LOCKED, partial(_check, diary, 2, OFF_DEG))
    diary.on(12, "14:08", partial(_hold_doubtful, diary))
    diary.on(13, "09:50", partial(_read_again, diary))
    diary.on(13, "10:14", partial(_let_go_right, diary))
    diary.on(13, "10:22", partial(_cut_again, diary))
    diary.on(JIG_2_BACK[0], "13:00", partial(_mend_jig, diary))
    diary.on(*JIG_2_BACK, partial(_check, diary, 2, 0.0))
    for lot in diary.told("other side"):
        diary.put(lot.stop.received - 0.3, partial(_send_under_wrong_mark, diary, lot))


def _check(diary: Diary, jig: int, off_deg: float, at: datetime) -> None:
    throw = dice("check", jig, at.date())
    crew = diary.ground.crew
    check_jig(
        jig_id=diary.ground.jigs[jig].id,
        positions=(
            MasterPosition(name="long, flat", length_off_mm=throw.uniform(-0.4, 0.4), included_off_deg=off_deg),
            MasterPosition(name="short, sharp", length_off_mm=throw.uniform(-0.4, 0.4), included_off_deg=off_deg),
        ),
        person=crew.field[jig],
        key=diary.key(),
        at=at,
    )


def _doubtful(diary: Diary, *stories: str) -> list[Lot]:
    return [lot for story in stories for lot in diary.told(story)]


def _hold_doubtful(diary: Diary, at: datetime) -> None:
    """Hold what was built from every reading since the last good check."""
    foreman = diary.ground.crew.foreman
    (sweep,) = sweeps(foreman, at=at)
    hold_doubtful(check=sweep.check, spool_ids=sweep.to_hold, person=foreman, key=diary.key(), at=at)


def _mend_jig(diary: Diary, at: datetime) -> None:
    """Write down the set points that jig 2 has after its repair; its readings from now on take these."""
    follow_set_points(
        by=diary.ground.crew.foreman, jig_id=diary.ground.jigs[2].id, constants=constants(JIG_2_MENDED), at=at
    )


def _read_again(diary: Diary, at: datetime) -> None:
    """Read the wrong ones with jig 1: what is not cut gets its new build at once, what is cut waits for the foreman."""
    for lot in _doubtful(diary, *READ_AGAIN):
        read(diary, lot, at, note="read again with jig 1")


def _let_go_right(diary: Diary, at: datetime) -> None:
    for lot in _doubtful(diary, *(story for story in DOUBTFUL if story not in READ_AGAIN)):
        let_go(
            spool_id=diary.spool_id(lot.mark),
            person=diary.ground.crew.foreman,
            key=diary.key(),
            at=at,
            reason="looked at with jig 1: the first reading stands",
        )


def _cut_again(diary: Diary, at: datetime) -> None:
    for lot in diary.told("doubtful, cut wrong"):
        make_again(
            diary,
            lot,
            at,
            why="cut from a reading of jig 2 out of check",
            released="read again with jig 1; cut again, the old legs go to the rack",
        )


def _send_under_wrong_mark(diary: Diary, lot: Lot, at: datetime) -> None:
    """Send the other side's reading under the mark that is read already; the shop asks, and the mark is mended."""
    (twin,) = diary.told("read twice")
    points, sides = jig_of(diary, lot.stop.crew, lot.stop.taken)
    hand = diary.ground.crew.field[lot.stop.crew]
    try:
        take_reading(
            tie_in_id=diary.ground.tie_ins[twin.mark].id,
            set_points_id=points.id,
            typed=typed(gallery()[lot.mark], sides, hand=hand.last_name),
            person=hand,
            key=diary.key(),
            at=at,
            taken_at=diary.month.moment(lot.stop.taken),
        )
    except ShopError as question:
        if question.code != "measured_before":
            raise
    hold_spool(
        spool_id=diary.spool_id(twin.mark),
        person=diary.ground.crew.foreman,
        key=diary.key(),
        at=at,
        reason="two crews brought a 173: east side or west side?",
        owner="field",
    )
    diary.put(
        diary.now + 22,
        lambda then: let_go(
            spool_id=diary.spool_id(twin.mark),
            person=diary.ground.crew.foreman,
            key=diary.key(),
            at=then,
            reason="173 is the east side; the west side is 174",
        ),
    )
