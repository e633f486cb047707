"""What had to be done again: rejected welds, wrong cuts, readings revised after cutting, spools that did not fit."""

from datetime import datetime
from functools import partial

from cutlists.demo.building import checker_of, weld
from cutlists.demo.diary import Diary
from cutlists.demo.lots import Lot
from cutlists.demo.measuring import make_again, moved, read
from spools.actions.let_go import let_go
from spools.actions.reject_weld import reject_weld
from spools.actions.report_misfit import report_misfit

REJECTED = {
    "weld repair, early": "undercut at the throat, weld 2",
    "weld repair, second": "porosity at the heel, weld 1",
    "weld repair, third": "no full penetration at the throat, weld 1",
    "weld repair, open": "porosity at the heel, weld 1; to be gouged and welded again",
}


def run_rework(diary: Diary) -> None:
    """Put all rework but the wrong cuts on its moments; these come from the saw."""
    for story in REJECTED:
        for lot in diary.told(story):
            _put_repair(diary, lot)
    for lot in diary.told("revised, made again"):
        diary.on(16, "09:30", partial(_revise, diary, lot, 0.0, 2.0, "inlet moved 2 in by the form crew"))
        diary.on(16, "10:30", partial(_remake, diary, lot, "inlet moved after cutting: leg A still serves", "as moved"))
    for lot in diary.told("revised, held"):
        diary.on(22, "08:20", partial(_revise, diary, lot, 3.0, 0.0, "main bracket moved; leg A 3 in longer"))
    for lot in diary.told("does not fit, made again"):
        diary.on(
            16,
            "09:45",
            partial(_does_not_fit, diary, lot, "turn", "4 degrees too little; scaffold tube in the way of the jig"),
        )
        diary.on(16, "13:10", partial(_measure_again, diary, lot))
    for lot in diary.told("does not fit, trimmed"):
        diary.on(17, "10:05", partial(_does_not_fit, diary, lot, "long", "3/8 in at the main"))
        diary.on(18, "08:15", partial(_let_go, diary, lot, "3/8 in trimmed at the beveled end on site; it fits"))


def _put_repair(diary: Diary, lot: Lot) -> None:
    """Weld once and reject it; the last weld is the build's own, or is still to come."""
    (making,) = lot.makings
    assert making.slot is not None and making.weld is not None  # noqa: S101, PT018  what is repaired was welded
    first = making.weld if making.accept is None else making.slot + 250
    if making.accept is not None:
        diary.put(first, partial(weld, diary, lot))
    diary.put(first + 32, partial(_reject, diary, lot))


def _reject(diary: Diary, lot: Lot, at: datetime) -> None:
    reject_weld(
        spool_id=diary.spool_id(lot.mark),
        person=checker_of(diary, lot),
        key=diary.key(),
        at=at,
        reason=REJECTED[lot.story],
    )


def _revise(diary: Diary, lot: Lot, leg_a_in: float, leg_b_in: float, note: str, at: datetime) -> None:
    read(diary, lot, at, place=moved(lot.mark, leg_a_in=leg_a_in, leg_b_in=leg_b_in), note=note)


def _measure_again(diary: Diary, lot: Lot, at: datetime) -> None:
    read(diary, lot, at, place=moved(lot.mark, turn_deg=4.0), note="the first spool did not fit")


def _remake(diary: Diary, lot: Lot, why: str, released: str, at: datetime) -> None:
    make_again(diary, lot, at, why=why, released=released)


def _does_not_fit(diary: Diary, lot: Lot, how: str, reason: str, at: datetime) -> None:
    report_misfit(
        spool_id=diary.spool_id(lot.mark),
        person=diary.ground.crew.field[1],
        key=diary.key(),
        at=at,
        how=how,
        reason=reason,
    )


def _let_go(diary: Diary, lot: Lot, reason: str, at: datetime) -> None:
    foreman = diary.ground.crew.foreman
    let_go(spool_id=diary.spool_id(lot.mark), person=foreman, key=diary.key(), at=at, reason=reason)
