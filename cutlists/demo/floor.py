"""What the foreman and the manager had on their hands: the groover down, holds, a rush, the lost spool."""

from datetime import datetime
from functools import partial

from cutlists.demo.diary import Diary
from cutlists.demo.fates import CUT_AND_BEVELED
from cutlists.demo.lots import Lot
from cutlists.demo.measuring import make_again
from cutlists.demo.scenario import LAST_DAY
from spools.actions.bench_down import bring_bench_up, take_bench_down
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.rush_spool import rush_spool

GROOVER_DOWN, GROOVER_UP = (7, "14:30"), (8, "15:00")  # 11 staffed hours
RUSHED = 9
RUSH = "Larkfield Civil pours apron panel 14 on Friday; asked by their superintendent"


def run_floor(diary: Diary) -> None:
    """Put the month's trouble on the floor on its moments."""
    _groover(diary)
    diary.on(15, "07:30", partial(_rush, diary))
    for lot in diary.told("lost at the galvanizer"):
        diary.on(LAST_DAY, "15:20", partial(_replace, diary, lot))
    for lot in diary.told("three legs"):
        reason = "three legs: the NPS 3 cleanout branch needs its place along leg A and its clocking before it is built"
        diary.put(lot.stop.received + 20, partial(_hold, diary, lot, reason, "field"))
    for lot in diary.told("field question"):
        reason = "drain is 1-1/2 in below the drawing: field to look again"
        diary.on(22, "06:50", partial(_hold, diary, lot, reason, "field"))
    for lot in diary.told("no up mark"):
        reason = "no up mark on the photo: which side is up?"
        diary.on(LAST_DAY, "14:38", partial(_hold, diary, lot, reason, "field"))
    for lot in diary.told("customer may move it"):
        diary.on(LAST_DAY, "14:52", partial(_hold_for_customer, diary, lot))


def _groover(diary: Diary) -> None:
    up = diary.month.tick(*GROOVER_UP)
    diary.on(*GROOVER_DOWN, partial(_groover_down, diary))
    diary.on(*GROOVER_UP, partial(_groover_up, diary))
    for lot in (*diary.told("groover, first"), *diary.told("groover, second")):
        beveled = (lot.makings[0].slot or 0.0) + CUT_AND_BEVELED
        if beveled < up:
            held = max(beveled, diary.month.tick(GROOVER_DOWN[0], "14:40"))
            diary.put(held, partial(_hold, diary, lot, "groover down: hydraulic pump", "groover"))
            diary.put(up + 1, partial(_let_go, diary, lot, "groover runs again"))
        else:
            diary.put(beveled, partial(_hold, diary, lot, "groover behind after 11 h down", "groover"))
            diary.put(beveled + 25, partial(_let_go, diary, lot, "its turn at the groover"))


def _groover_down(diary: Diary, at: datetime) -> None:
    take_bench_down(
        bench_id=diary.ground.benches["Groover"].id,
        person=diary.ground.crew.foreman,
        at=at,
        reason="hydraulic pump",
        back_at=diary.month.moment(diary.month.tick(*GROOVER_UP)),
    )


def _groover_up(diary: Diary, at: datetime) -> None:
    bring_bench_up(bench_id=diary.ground.benches["Groover"].id, person=diary.ground.crew.foreman, at=at)


def _hold(diary: Diary, lot: Lot, reason: str, owner: str, at: datetime) -> None:
    hold_spool(
        spool_id=diary.spool_id(lot.mark),
        person=diary.ground.crew.foreman,
        key=diary.key(),
        at=at,
        reason=reason,
        owner=owner,
    )


def _hold_for_customer(diary: Diary, lot: Lot, at: datetime) -> None:
    hold_spool(
        spool_id=diary.spool_id(lot.mark),
        person=diary.ground.crew.manager,
        key=diary.key(),
        at=at,
        reason="customer may move this inlet: answer due tomorrow",
        owner="customer",
    )


def _let_go(diary: Diary, lot: Lot, reason: str, at: datetime) -> None:
    foreman = diary.ground.crew.foreman
    let_go(spool_id=diary.spool_id(lot.mark), person=foreman, key=diary.key(), at=at, reason=reason)


def _rush(diary: Diary, at: datetime) -> None:
    """Rush the nine newest spools of the reach to be poured."""
    newest = [lot for lot in diary.lots.values() if lot.stop.received < diary.now][-RUSHED:]
    for lot in newest:
        _rush_one(diary, lot, RUSH, at)


def _rush_one(diary: Diary, lot: Lot, reason: str, at: datetime) -> None:
    foreman = diary.ground.crew.foreman
    rush_spool(spool_id=diary.spool_id(lot.mark), person=foreman, key=diary.key(), at=at, reason=reason)


def _replace(diary: Diary, lot: Lot, at: datetime) -> None:
    """Give the lost spool up and build it again, as a rush."""
    make_again(
        diary,
        lot,
        at,
        why="lost at the galvanizer: not found in three days",
        released="replaces the one lost at the galvanizer; same reading",
    )
    _rush_one(diary, lot, "replaces the spool lost at the galvanizer", at)
