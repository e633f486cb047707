"""How each kind of story goes through the shop: when its builds are planned, welded, accepted, where they stop."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from cutlists.demo.chance import dice
from cutlists.demo.month import DAY_MINUTES, Month
from cutlists.demo.scenario import LAST_DAY
from cutlists.demo.walk import Stop

PLANS_AT = ("06:10", "11:40")
LAST_PLAN_AT = "14:20"
CUT_AND_BEVELED = 100.0  # minutes after a plan by which its spools are cut and beveled
BEHIND_UNTIL = 130.0


@dataclass(frozen=True, slots=True)
class Making:
    """One build through the shop, in shop time; what is None is not reached."""

    slot: float | None = None
    weld: float | None = None
    accept: float | None = None
    groove_from: float = 0.0
    grooves: bool = True
    bevels: bool = True


Fate = Callable[[Month, Stop, float], tuple[Making, ...]]


def next_slot(month: Month, tick: float) -> float:
    """Return when the next cut plan is made after a moment, with a few minutes to look at the reading first."""
    slots = (month.tick(day, clock) for day in month.worked for clock in PLANS_AT)
    return next(slot for slot in slots if slot >= tick + 8)


def in_time(month: Month, stop: Stop, due: float, start: float) -> Making:
    """Return a build that is accepted inside its day."""
    slot = next_slot(month, start)
    throw = dice("making", stop.mark)
    accept = throw.uniform(slot + 190, due - 12)
    return Making(slot, accept - throw.uniform(18, 45), accept)


def _usual(month: Month, stop: Stop, due: float, late_by: float) -> Making:
    slot = next_slot(month, stop.received)
    return Making(slot, due + late_by - 32, due + late_by)


def _groover_first(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    slot = next_slot(month, stop.received)
    queue = dice("groover", stop.mark).uniform(0, 150)
    accept = month.tick(9, "06:35") + queue
    return (Making(slot, accept - 22, accept, groove_from=month.tick(8, "15:02") + queue / 5),)


def _groover_second(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    making = _usual(month, stop, due, dice("groover", stop.mark).uniform(45, 140))
    queue = month.tick(8, "15:40") + (due % DAY_MINUTES) / 10
    behind = (making.slot or 0.0) + BEHIND_UNTIL
    return (replace(making, groove_from=max(queue, behind)),)


def _repaired(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (_usual(month, stop, due, 75),)


def _cut_again(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (_usual(month, stop, due, 60),)


def _cut_again_in_time(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (_usual(month, stop, due, -25),)


def _lost(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    first = in_time(month, stop, due, stop.received)
    accept = month.tick(15, "11:30")
    return (replace(first, weld=accept - 30, accept=accept), Making())


def _made_again(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    """A spool that did not fit: accepted on its day, delivered, measured again, made again."""
    again = Making(month.tick(17, "06:10"), month.tick(17, "10:20"), month.tick(17, "11:00"))
    return *_same_day(month, stop, due), again


def _same_day(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    slot = next_slot(month, stop.received)
    return (Making(slot, slot + 200, slot + 232),)


def _revised(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    """Cut, then moved by a new reading; the next build is late by what the first took."""
    return Making(next_slot(month, stop.received)), Making(
        month.tick(16, "11:40"), month.tick(16, "15:00"), month.tick(16, "15:40")
    )


def _cut_only(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(next_slot(month, stop.received)),)


def _not_begun(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(),)


def _doubtful_welded(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(month.tick(12, "11:40"), month.tick(12, "13:36"), month.tick(13, "10:45")),)


def _doubtful_waited(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(month.tick(12, "11:40"), due + 10, due + 40),)


def _doubtful_cut(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return Making(month.tick(12, "11:40")), Making(
        month.tick(13, "11:40"), month.tick(13, "15:05"), month.tick(13, "15:40")
    )


def _doubtful_wrong(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    accept = month.tick(13, "15:20") + (stop.seat or (0, 0, 0, 0))[3] * 25
    return Making(), Making(month.tick(13, "11:40"), accept - 35, accept)


def _open_repair(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(next_slot(month, stop.received), month.tick(LAST_DAY, "10:20")),)


def _late_visual(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
    return (Making(next_slot(month, stop.received), month.tick(LAST_DAY, "14:35")),)


def _last_batch(*, weld: bool = False, bevels: bool = True) -> Fate:
    def fate(month: Month, stop: Stop, due: float) -> tuple[Making, ...]:
        at = month.tick(LAST_DAY, "16:14") + (stop.received % 5)
        odd = bool(stop.mark % 2)
        return (Making(month.tick(LAST_DAY, LAST_PLAN_AT), at if weld else None, grooves=bevels or odd, bevels=bevels),)

    return fate


FATES: dict[str, Fate] = {
    "groover, first": _groover_first,
    "groover, second": _groover_second,
    "weld repair, early": _repaired,
    "weld repair, second": _repaired,
    "weld repair, third": _repaired,
    "wrong cut, first": _cut_again,
    "wrong cut, second": _cut_again,
    "wrong cut, third": _cut_again_in_time,
    "lost at the galvanizer": _lost,
    "does not fit, made again": _made_again,
    "does not fit, trimmed": _same_day,
    "revised, made again": _revised,
    "doubtful, welded": _doubtful_welded,
    "doubtful, waited": _doubtful_waited,
    "doubtful, cut wrong": _doubtful_cut,
    "doubtful, wrong": _doubtful_wrong,
    "three legs": _not_begun,
    "revised, held": _cut_only,
    "field question": _cut_only,
    "weld repair, open": _open_repair,
    "visual, late": _late_visual,
    "waiting visual": _last_batch(weld=True),
    "to weld": _last_batch(),
    "to prepare": _last_batch(bevels=False),
    "to cut": _not_begun,
    "no up mark": _not_begun,
    "customer may move it": _not_begun,
}
