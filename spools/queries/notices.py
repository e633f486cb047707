"""What concerns a person: the exceptions of the last two weeks, each with the reason why it is theirs to know."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q

from spools.flow.roles import WORDS, Role
from spools.models import Event, JigCheck, NoticeMark, Person
from spools.queries.spool import words_of

LATELY = timedelta(days=14)
MOST = 400
SHOWN = 100
CODES = (
    *("held", "let_go", "rushed", "wrong_cut", "rejected", "misfit", "missing"),
    *("turned_up", "damaged", "coating_bad"),
    *("superseded", "scrapped", "undone", "heat_corrected", "asked"),
)
BY_LINK = ("missing", "turned_up", "damaged", "misfit")  # may be told by somebody else on the person's own link
Mine = dict[int, set[str]]  # spool -> what the person did to it


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing that concerns a person, and why."""

    event: Event
    words: str
    why: str
    is_new: bool


@dataclass(frozen=True, slots=True)
class Rule:
    """Whom a kind of event concerns: a role, or whoever did something to the spool before."""

    codes: frozenset[str]
    why: str
    concerns: Callable[[Event, Person, Mine], bool]


def _role(*roles: Role) -> Callable[[Event, Person, Mine], bool]:
    return lambda event, person, mine: person.may(frozenset(roles))


def _did(*codes: str) -> Callable[[Event, Person, Mine], bool]:
    return lambda event, person, mine: bool(mine.get(event.spool_id, set()) & set(codes))


def _is_owner(event: Event, person: Person, mine: Mine) -> bool:
    owner = str(event.details.get("owner", "")).casefold()
    names = {person.short_name, person.get_full_name(), *(WORDS[role] for role in person.role_set), *person.role_set}
    return owner in {name.casefold() for name in names}


def _still_to_cut(event: Event, person: Person, mine: Mine) -> bool:
    return person.may(frozenset({Role.CUTTER})) and event.spool.next_step == "cut"


def _own_tap(event: Event, person: Person, mine: Mine) -> bool:
    return event.undoes is not None and event.undoes.person_id == person.id


def _measured(event: Event, person: Person, mine: Mine) -> bool:
    return event.spool.reading.taken_by_id == person.id


def _says(*codes: str) -> frozenset[str]:
    return frozenset(codes)


# The first row that fits says why.
RULES: tuple[Rule, ...] = (
    Rule(_says("held"), "it is your move", _is_owner),
    Rule(_says("undone"), "your own tap", _own_tap),
    Rule(_says("asked"), "you are asked", _role(Role.FOREMAN)),
    Rule(_says("rejected"), "you welded it", _did("welded")),
    Rule(_says("misfit", "superseded", "held"), "you measured it", _measured),
    Rule(_says("wrong_cut", "rejected", "heat_corrected"), "you cut it", _did("cut")),
    Rule(_says("heat_corrected"), "you welded it", _did("welded")),
    Rule(_says("held", "superseded", "scrapped", "let_go"), "you worked on it", _did("cut", "welded", "accepted")),
    Rule(_says("held", "let_go", "rushed", "superseded"), "it is still to cut", _still_to_cut),
    Rule(_says("missing", "turned_up", "damaged", "coating_bad"), "you drive", _role(Role.DRIVER)),
    Rule(_says("misfit", "damaged"), "you welded it", _did("welded")),
    Rule(
        _says("held", "rushed", "wrong_cut", "rejected", "misfit", "missing", "superseded", "scrapped")
        | _says("heat_corrected", "turned_up", "damaged", "coating_bad"),
        "you run the floor",
        _role(Role.FOREMAN),
    ),
    Rule(
        _says("held", "rushed", "misfit", "missing", "scrapped", "coating_bad"),
        "you answer for the date",
        _role(Role.MANAGER),
    ),
)


def why_it_concerns(event: Event, person: Person, mine: Mine) -> str:
    """Return why an event concerns a person, or nothing; nobody is told what they did themselves.

    What somebody did on the link of a person's load is news to that person too.
    """
    if event.person_id == person.id and not event.details.get("told_by"):
        return ""
    return next((rule.why for rule in RULES if event.code in rule.codes and rule.concerns(event, person, mine)), "")


def notices_for(person: Person, *, at: datetime, after: int = 0, seen: int | None = None) -> list[Notice]:
    """Return what concerns a person, the newest first (three queries at most); ``after`` skips older events."""
    # By time, which has an index: by number the database would go through everything that was ever written.
    found = Event.objects.filter(received_at__gte=at - LATELY, person__shop_id=person.the_shop_id, code__in=CODES)
    if after:
        found = found.filter(id__gt=after)
    events = list(
        found.exclude(Q(person_id=person.id) & ~Q(code__in=BY_LINK))
        .select_related("person", "bench", "load", "undoes", "spool__tie_in__job", "spool__reading")
        .defer("spool__solution")
        .order_by("-received_at", "-id")[:MOST]
    )
    mine: Mine = {}
    for spool, code in Event.objects.filter(person=person, spool_id__in={e.spool_id for e in events}).values_list(
        "spool_id", "code"
    ):
        mine.setdefault(spool, set()).add(code)
    read_to = seen if seen is not None else seen_by(person)
    told = [(event, why_it_concerns(event, person, mine)) for event in events]
    return [Notice(event, words_of(event), why, event.id > read_to) for event, why in told if why][:SHOWN]


def seen_by(person: Person) -> int:
    """Return the event up to which a person has read their list."""
    return NoticeMark.objects.filter(person=person).values_list("seen_event", flat=True).first() or 0


def failed_jig_checks(person: Person, *, at: datetime) -> list[JigCheck]:
    """Return the jigs that failed a check lately, for those who measure and for the foreman."""
    if not person.may(frozenset({Role.FIELD, Role.FOREMAN})):
        return []
    found = JigCheck.objects.filter(jig__shop_id=person.the_shop_id, passed=False, at__gte=at - LATELY)
    return list(found.select_related("jig", "by")[:SHOWN])
