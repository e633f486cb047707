"""What the page of one spool shows."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Prefetch

from spools.errors import not_found
from spools.flow.asking import WANTS
from spools.flow.roles import say_roles
from spools.flow.routes import SPOOL
from spools.flow.steps import BY_CODE, SHOWN, STEPS, Step, say
from spools.models import Event, Person, Piece, Spool

WITH_HEATS = Prefetch("pieces", Piece.objects.select_related("heat"))


@dataclass(frozen=True, slots=True)
class TrackCell:
    """One step as the track shows it."""

    word: str
    state: str
    note: str


@dataclass(frozen=True, slots=True)
class Track:
    """The seven steps and the facts beside them."""

    cells: tuple[TrackCell, ...]
    sides: tuple[TrackCell, ...]


@dataclass(frozen=True, slots=True)
class StepOffer:
    """A step that this person could tap now."""

    code: str
    word: str
    imperative: str
    allowed: bool
    who: str
    requires: tuple[str, ...]
    targets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StoryLine:
    """One event as the story tells it."""

    event: Event
    words: str
    was_undone: bool


def one_spool(spool_id: int, person: Person) -> Spool:
    """Return one spool with what its page shows. Raises ``ShopError`` not_found."""
    spool = (
        Spool.objects.for_person(person)
        .select_related("shop", "bench", "reading__taken_by", "reading__set_points__jig", "replaces")
        .select_related("tie_in__job", "tie_in__main")
        .prefetch_related(WITH_HEATS)
        .filter(id=spool_id)
        .first()
    )
    if spool is None:
        raise not_found("spool of that number")
    return spool


def track_of(spool: Spool) -> Track:
    """Return the track of one spool."""
    return Track(
        cells=tuple(_cell(spool, step.code) for step in SHOWN),
        sides=tuple(_cell(spool, step.code) for step in STEPS if not step.shown and _is_said(spool, step)),
    )


def _is_said(spool: Spool, step: Step) -> bool:
    """A fact beside the track is shown when the route needs it; the two that the shop always speaks of, always."""
    return step.code in {"accepted", "back"} or bool(step.targets(spool.the_route))


def _cell(spool: Spool, code: str) -> TrackCell:
    standing, route = spool.the_standing, spool.the_route
    targets = BY_CODE[code].targets(route)
    if not targets:
        return TrackCell(say(code), "not_needed", "")
    left = standing.missing(code, route)
    if not left:
        reached = standing.reached.get(code)
        at = datetime.fromisoformat(reached).astimezone(spool.shop.zone) if reached else None
        return TrackCell(say(code), "done", f"{at:%a %-d %b %H:%M}" if at else "")
    some = f"{len(targets) - len(left)} of {len(targets)}" if len(left) < len(targets) else ""
    return TrackCell(say(code), "now" if code == spool.next_step else "needed", some)


def story_of(spool: Spool) -> list[StoryLine]:
    """Return the events, newest first, each knowing whether it was undone."""
    events = list(spool.events.select_related("person", "bench", "load").prefetch_related("photos").order_by("-number"))
    undone = {event.details.get("undoes_number") for event in events if event.undoes_id}
    return [StoryLine(event, words_of(event), event.number in undone) for event in events]


def words_of(event: Event) -> str:
    """Return one event as a sentence of the story."""
    where = f" on {event.bench.called}" if event.bench and event.code in {"put_on_bench", "welded"} else ""
    parts = [t for t in event.targets if t != SPOOL]
    what = f"{', '.join(parts)} {say(event.code)}" if parts else say(event.code)
    if event.code == "undone":
        what = f"undone: {say(event.details['undoes_code'])} (#{event.details['undoes_number']})"
        what += "".join(f", with it {say_part(code, targets)}" for code, targets in event.withdraws)
    if event.code == "let_go":
        what = f"hold #{event.details['hold']} let go"
    if event.code == "asked":
        what = f"asked the foreman to {WANTS[event.details['wants']]}"
    if event.code == "heat_corrected":
        changes = event.details["now"].items()
        what = "heat put right: " + ", ".join(f"{m} {event.details['was'][m] or 'none'} to {new}" for m, new in changes)
    if event.load:
        where += f", load {event.load.number}"
    later = ", entered later" if event.entered_later else ""
    reason = f": {event.reason}" if event.reason else ""
    told_by = event.details.get("told_by")  # somebody without an account, on the link of that person's load
    by = f"{told_by}, on {event.person.short_name}'s link" if told_by else event.person.short_name
    return f"{what[:1].upper()}{what[1:]}{where} by {by}{later}{reason}"


def say_part(code: str, targets: Sequence[str]) -> str:
    """Return a step on some targets in words: ``A1 grooved``, or ``welded`` of a whole spool."""
    return f"{', '.join(t for t in targets if t != SPOOL)} {say(code)}".strip()


def offers_of(spool: Spool, person: Person) -> tuple[StepOffer, ...]:
    """Return the steps still open on this spool, the next first; those of others are named with whose they are."""
    standing, route = spool.the_standing, spool.the_route
    if standing.ended:
        return ()
    return tuple(
        StepOffer(
            code=step.code,
            word=step.word,
            imperative=step.imperative,
            allowed=person.may(step.who),
            who=say_roles(step.who),
            requires=step.requires,
            targets=standing.missing(step.code, route),
        )
        for step in STEPS
        if standing.missing(step.code, route)
    )


def scan_code(spool: Spool) -> str:
    """Return the short text of a ticket's code: spool and build, in upper case."""
    return f"S{spool.id}-{spool.letter}"
