"""One build through the shop: put on a bench, elbow trimmed, grooved, beveled, welded, accepted, tagged."""

from datetime import datetime, timedelta
from functools import partial

from cutlists.demo.chance import dice
from cutlists.demo.diary import Diary
from cutlists.demo.fates import Making
from cutlists.demo.ground import ELBOW_HEATS, WRONG_HEAT
from cutlists.demo.lots import Lot
from spools.actions.bind_tag import bind_tag
from spools.actions.put_on_bench import put_on_bench
from spools.actions.record_step import Tap, record_step
from spools.actions.stamp_tags import stamp_tags
from spools.actions.undo_event import undo_event
from spools.models import Bench, Person

INCH_16TH_MM = 25.4 / 16
BENCHES_OF = {"6": ("1", "2", "3", "1", "2"), "8": ("4", "3", "4", "4")}
LAST_BENCH = "3"
STAMPED = 250
CERT_CHECK_AFTER = 34


def fill_nail(diary: Diary, at: datetime) -> None:
    """Stamp the month's steel tags and hang them on the nail."""
    batch = stamp_tags(count=STAMPED, person=diary.ground.crew.foreman, key=diary.key(), at=at)
    diary.nail.extend(batch.tags.order_by("number").values_list("number", flat=True))


def build(diary: Diary, lot: Lot, making: Making) -> None:
    """Put a build's deeds on their moments; cutting comes from the plan, and preparing from the cutting."""
    if making.slot is None:
        return
    if lot.story != "to prepare":  # these the foreman has not assigned yet
        diary.put(making.slot + 9, partial(_put_on_bench, diary, lot))
    if making.weld is not None:
        diary.put(making.weld, partial(weld, diary, lot))
    if making.accept is not None:
        diary.put(making.accept, partial(_accept, diary, lot))
        diary.put(making.accept + 3, partial(_bind_tag, diary, lot))


def prepare_ends(diary: Diary, lot: Lot, making: Making) -> None:
    """Put the elbow's trim, grooving and beveling after the last pipe cut."""
    typed_wrong = lot.story == "heat typed wrong"
    diary.put(
        diary.now + 4, partial(_trim_elbow, diary, lot, WRONG_HEAT if typed_wrong else diary.spools[lot.mark].nps)
    )
    if making.bevels:
        diary.put(diary.now + 12, partial(_step, diary, lot, "beveled"))
    if making.grooves:
        groove = max(diary.now + 18, making.groove_from)
        diary.put(groove, partial(_step, diary, lot, "grooved"))
    if typed_wrong:
        diary.put(diary.now + CERT_CHECK_AFTER, partial(_mend_heat, diary, lot))


def bench_of(diary: Diary, lot: Lot) -> Bench:
    """Return the bench that a tie-in's spool is built on."""
    nps = diary.spools[lot.mark].nps
    names = BENCHES_OF[nps]
    name = LAST_BENCH if lot.story == "waiting visual" else names[lot.mark % len(names)]
    return diary.ground.benches[name]


def welder_of(diary: Diary, lot: Lot) -> Person:
    """Return who welds on that bench."""
    return diary.ground.crew.welders[bench_of(diary, lot).name]


def checker_of(diary: Diary, lot: Lot) -> Person:
    """Return who looks at it: every third the foreman, else a fitter of another bench."""
    crew = diary.ground.crew
    others = [person for person in crew.welders.values() if person.id != welder_of(diary, lot).id]
    return crew.foreman if lot.mark % 3 == 0 else others[lot.mark % len(others)]


def _put_on_bench(diary: Diary, lot: Lot, at: datetime) -> None:
    put_on_bench(
        spool_id=diary.spool_id(lot.mark),
        bench_id=bench_of(diary, lot).id,
        person=diary.ground.crew.foreman,
        key=diary.key(),
        at=at,
    )


def _step(diary: Diary, lot: Lot, step: str, at: datetime) -> None:
    groover = diary.ground.crew.groover
    record_step(spool_id=diary.spool_id(lot.mark), step=step, person=groover, key=diary.key(), at=at)


def _trim_elbow(diary: Diary, lot: Lot, heat: str, at: datetime) -> None:
    record_step(
        spool_id=diary.spool_id(lot.mark),
        step="cut",
        person=diary.ground.crew.groover,
        key=diary.key(),
        at=at,
        tap=Tap(heats={"E": diary.ground.elbow_heats[heat].id}),
    )


def _mend_heat(diary: Diary, lot: Lot, at: datetime) -> None:
    """Undo what stands on an elbow's heat that no certificate has, newest first, and record it with the right one."""
    spool = diary.spools[lot.mark]
    for minutes, code in enumerate(("beveled", "cut")):
        event = spool.events.filter(code=code).latest("number")
        undo_event(
            spool_id=spool.id,
            number=event.number,
            person=diary.ground.crew.foreman,
            key=diary.key(),
            at=at + timedelta(minutes=minutes),
            reason=f"certificate check: elbow heat is {ELBOW_HEATS[spool.nps]}, typed {ELBOW_HEATS[WRONG_HEAT]}",
        )
    _trim_elbow(diary, lot, spool.nps, at + timedelta(minutes=2))
    _step(diary, lot, "beveled", at + timedelta(minutes=3))


def weld(diary: Diary, lot: Lot, at: datetime) -> None:
    """Weld the present build on its bench."""
    record_step(
        spool_id=diary.spool_id(lot.mark),
        step="welded",
        person=welder_of(diary, lot),
        key=diary.key(),
        at=at,
        tap=Tap(bench_id=bench_of(diary, lot).id),
    )


def _accept(diary: Diary, lot: Lot, at: datetime) -> None:
    spool = diary.spools[lot.mark]
    off = dice("check", lot.mark, spool.build).choice((-1, 0, 0, 0, 1)) * INCH_16TH_MM
    measured = round((spool.check_mm + off) / INCH_16TH_MM) * INCH_16TH_MM
    record_step(
        spool_id=spool.id,
        step="accepted",
        person=checker_of(diary, lot),
        key=diary.key(),
        at=at,
        tap=Tap(check_mm=measured),
    )


def _bind_tag(diary: Diary, lot: Lot, at: datetime) -> None:
    """Hang the next tag from the nail on the spool."""
    bind_tag(
        spool_id=diary.spool_id(lot.mark),
        tag=diary.nail.popleft(),
        person=checker_of(diary, lot),
        key=diary.key(),
        at=at,
    )
