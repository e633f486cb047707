"""Where a spool stands: a fold of its events over its route; the only place where status is worked out."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from spools.flow.routes import Route
from spools.flow.steps import BY_CODE, ENDING, SHOWN, needed

# What its own maker puts right before anybody has looked at it is no second attempt. Common practice, no source.
BEFORE_THE_CHECK = frozenset({"weld_again"})


@dataclass(frozen=True, slots=True)
class Happened:
    """One event as the fold needs it."""

    number: int
    code: str
    at: datetime
    targets: tuple[str, ...] = ()
    withdraws: tuple[tuple[str, tuple[str, ...]], ...] = ()
    undoes: int | None = None
    person: str = ""
    reason: str = ""
    owner: str = ""
    refers_to: int | None = None
    bench: int | None = None
    tag: str = ""
    heats: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class OpenHold:
    """A hold that is still on: the event that set it, why, whose it is, since when."""

    number: int
    reason: str
    owner: str
    since: str


@dataclass(frozen=True, slots=True)
class Standing:
    """Everything that is derived from a spool's events. ``done`` maps a step to the targets it is done on."""

    done: dict[str, tuple[str, ...]] = field(default_factory=dict)
    reached: dict[str, str] = field(default_factory=dict)
    by: dict[str, str] = field(default_factory=dict)
    holds: tuple[OpenHold, ...] = ()
    rush: bool = False
    bench: int | None = None
    tag: str = ""
    attempts: int = 1
    ended: str = ""
    heats: dict[str, int] = field(default_factory=dict)

    def missing(self, code: str, route: Route) -> tuple[str, ...]:
        """Return the targets of a step that are still to do."""
        done = self.done.get(code, ())
        return tuple(t for t in BY_CODE[code].targets(route) if t not in done)

    def passed(self, code: str, route: Route) -> bool:
        """Tell whether nothing of a step is left to do (a step that isn't needed is passed)."""
        return not self.missing(code, route)


def next_step(standing: Standing, route: Route) -> str:
    """Return the earliest step that some piece still needs, or ``""`` when all is done."""
    for step in needed(route):
        if not standing.passed(step.code, route):
            return step.code
    return ""


def status(standing: Standing, route: Route) -> str:
    """Return the word of the seven that the spool has reached: the last needed one with nothing open before it."""
    reached = SHOWN[0].code
    for step in needed(route):
        if not standing.passed(step.code, route):
            break
        if step.shown:
            reached = step.code
    return reached


def advance(standing: Standing, event: Happened, route: Route) -> Standing:
    """Return the standing after one more event (any but an undo, which needs the whole history: use ``fold``)."""
    if event.code in BY_CODE:
        return _stepped(standing, event, route)
    changed = _withdrawn(standing, event, route) if event.withdraws else standing
    simple = _SIMPLE.get(event.code)
    return simple(changed, event) if simple is not None else changed


def fold(events: Iterable[Happened], route: Route) -> Standing:
    """Return the standing that a whole history leads to. An undone event counts as never having happened."""
    history = list(events)
    undone = {event.undoes for event in history if event.undoes is not None}
    standing = Standing()
    for event in history:
        if event.undoes is not None:
            standing = _taken_back(standing, event, route)
        elif event.number not in undone:
            standing = advance(standing, event, route)
    return standing


def _stepped(standing: Standing, event: Happened, route: Route) -> Standing:
    code = event.code
    before = standing.done.get(code, ())
    now_done = tuple(t for t in BY_CODE[code].targets(route) if t in before or t in event.targets)
    after = replace(
        standing,
        done=standing.done | {code: now_done},
        by=standing.by | {code: event.person},
        heats=standing.heats | dict(event.heats),
    )
    if after.passed(code, route) and code not in standing.reached:
        after = replace(after, reached=standing.reached | {code: event.at.isoformat()})
    return after


def _withdrawn(standing: Standing, event: Happened, route: Route) -> Standing:
    again = 0 if event.code in BEFORE_THE_CHECK else 1
    return replace(_taken_back(standing, event, route), attempts=standing.attempts + again)


def _taken_back(standing: Standing, event: Happened, route: Route) -> Standing:
    """Take back what an event withdraws; by itself that is no new attempt."""
    done, reached = dict(standing.done), dict(standing.reached)
    for code, targets in event.withdraws:
        done[code] = tuple(t for t in done.get(code, ()) if t not in targets)
        if any(t not in done[code] for t in BY_CODE[code].targets(route)):
            reached.pop(code, None)
    cut_again = {target for code, targets in event.withdraws if code == "cut" for target in targets}
    heats = {mark: heat for mark, heat in standing.heats.items() if mark not in cut_again}
    return replace(standing, done=done, reached=reached, heats=heats)


def _held(standing: Standing, event: Happened) -> Standing:
    hold = OpenHold(event.number, event.reason, event.owner or event.person, event.at.isoformat())
    return replace(standing, holds=(*standing.holds, hold))


def _let_go(standing: Standing, event: Happened) -> Standing:
    return replace(standing, holds=tuple(h for h in standing.holds if h.number != event.refers_to))


_SIMPLE: dict[str, Callable[[Standing, Happened], Standing]] = {
    "held": _held,
    "let_go": _let_go,
    "rushed": lambda standing, event: replace(standing, rush=True),
    "unrushed": lambda standing, event: replace(standing, rush=False),
    "put_on_bench": lambda standing, event: replace(standing, bench=event.bench),
    "taken_off_bench": lambda standing, event: replace(standing, bench=None),
    "tagged": lambda standing, event: replace(standing, tag=event.tag),
    "heat_corrected": lambda standing, event: replace(standing, heats=standing.heats | dict(event.heats)),
    **dict.fromkeys(ENDING, lambda standing, event: replace(standing, ended=event.code)),
}


def as_stored(standing: Standing) -> dict[str, Any]:
    """Return a standing as plain values for a JSON column."""
    return {
        "done": {code: list(targets) for code, targets in standing.done.items()},
        "reached": standing.reached,
        "by": standing.by,
        "holds": [[h.number, h.reason, h.owner, h.since] for h in standing.holds],
        "rush": standing.rush,
        "bench": standing.bench,
        "tag": standing.tag,
        "attempts": standing.attempts,
        "ended": standing.ended,
        "heats": standing.heats,
    }


def stored_standing(value: dict[str, Any]) -> Standing:
    """Return the standing that ``as_stored`` wrote; an empty value is the standing before any event."""
    if not value:
        return Standing()
    return Standing(
        done={code: tuple(targets) for code, targets in value["done"].items()},
        reached=value["reached"],
        by=value["by"],
        holds=tuple(OpenHold(*hold) for hold in value["holds"]),
        rush=value["rush"],
        bench=value["bench"],
        tag=value["tag"],
        attempts=value["attempts"],
        ended=value["ended"],
        heats=value["heats"],
    )
