"""Each weld of a spool: between which pieces and heats, by whom, by which procedure, accepted by whom."""

from collections.abc import Iterable
from dataclasses import dataclass

from spools.flanges import Flange, flanges_of
from spools.flow.roles import Role
from spools.models import Event, Person, Spool

WELD_STEPS = ("welded", "flange welded")


@dataclass(frozen=True, slots=True)
class Weld:
    """One weld; ``by`` is empty until it is made."""

    number: int
    between: tuple[str, str]
    gap_mm: float
    heats: str
    by: str
    stamp: str
    procedure: str


@dataclass(frozen=True, slots=True)
class FlangeWeld:
    """A flange and who welded it on; ``by`` is empty until it is."""

    flange: Flange
    heat: str
    by: str
    stamp: str


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured at acceptance against the print; angles only where they were measured."""

    check_mm: float
    print_mm: float
    tolerance_mm: float
    included_deg: float | None
    print_deg: float | None
    tolerance_deg: float | None
    tolerance_class: str
    by: str
    reason: str

    @property
    def off_mm(self) -> float:
        """How far C is over, or under."""
        return self.check_mm - self.print_mm

    @property
    def off_deg(self) -> float | None:
        """How far the included angle is over, or under."""
        if self.included_deg is None or self.print_deg is None:
            return None
        return self.included_deg - self.print_deg


def made_by(events: Iterable[Event]) -> dict[int, tuple[int, str]]:
    """Return who made each weld, by its number, with the procedure: the last word counts. Events that still stand."""
    found: dict[int, tuple[int, str]] = {}
    for event in sorted(events, key=lambda one: one.number):
        if event.code in {"welded", "weld_by"}:
            found |= {joint: (by, procedure) for joint, by, procedure in event.details.get("welds", [])}
    return found


def makers_of(spool: Spool, events: Iterable[Event]) -> dict[str, frozenset[int]]:
    """Return who made what is welded now, by step: whoever tapped it, and whoever a weld was put down to (no query).

    ``events`` are those of the spool that still stand.
    """
    standing, told = spool.the_standing, list(events)
    found: dict[str, frozenset[int]] = {}
    if standing.done.get("welded"):
        found["welded"] = frozenset({int(standing.by["welded"]), *(by for by, _ in made_by(told).values())})
    on_now = standing.done.get("flange welded", ())
    if on_now:
        flanges = flanges_by(told)
        found["flange welded"] = frozenset(flanges[end] for end in on_now)
    return found


def flanges_by(events: Iterable[Event]) -> dict[str, int]:
    """Return who welded the flange on, by its end (``A.1``): the last word counts. Events that still stand."""
    told = sorted(events, key=lambda one: one.number)
    return {end: one.person_id for one in told if one.code == "flange welded" for end in one.targets}


def made_here(spool: Spool, person: Person) -> tuple[str, ...]:
    """Return the weld steps of a spool that a person has made, in order (one query, none before it is welded)."""
    done = spool.the_standing.done
    if not any(done.get(code) for code in WELD_STEPS):
        return ()
    makers = makers_of(spool, spool.events.filter(code__in=[*WELD_STEPS, "weld_by"], undone_by=None))
    return tuple(code for code in WELD_STEPS if person.id in makers.get(code, ()))


def welds_of(spool: Spool, events: Iterable[Event], people: Iterable[Person]) -> list[Weld]:
    """Return the welds of one spool from its stored solution, its events and the shop's people (no query)."""
    standing = spool.the_standing
    made = made_by(events) if standing.done.get("welded") else {}
    otherwise = (
        (int(standing.by["welded"]), "") if standing.done.get("welded") else (0, "")
    )  # told of all welds at once
    known = {one.id: one for one in people}
    heats = _heats_of(spool)
    rows = []
    for joint in spool.solution["answer"]["joints"]:
        by, procedure = made.get(joint["number"], otherwise)
        welder, between = known.get(by), (joint["pieces"][0], joint["pieces"][1])
        rows.append(
            Weld(
                joint["number"],
                between,
                joint["gap_mm"],
                _say_heats(heats[mark] for mark in between),
                welder.short_name if welder else "",
                welder.stamp if welder else "",
                procedure,
            )
        )
    return rows


def flange_welds_of(spool: Spool, events: Iterable[Event], people: Iterable[Person]) -> list[FlangeWeld]:
    """Return the flanges of one spool with who welded each on, from its stored solution and events (no query)."""
    on_now = spool.the_standing.done.get("flange welded", ())
    made, known = flanges_by(events), {one.id: one for one in people}
    heats = _heats_of(spool)
    rows = []
    for flange in flanges_of(spool.solution):
        welder = known.get(made[flange.target]) if flange.target in on_now else None
        rows.append(
            FlangeWeld(
                flange,
                heats[flange.on] or "not given",
                welder.short_name if welder else "",
                welder.stamp if welder else "",
            )
        )
    return rows


def _heats_of(spool: Spool) -> dict[str, str]:
    return {piece.mark: piece.heat.number if piece.heat else "" for piece in spool.pieces.all()}


def _say_heats(heats: Iterable[str]) -> str:
    both = list(heats)
    return " to ".join(heat or "not given" for heat in both) if any(both) else "not given"


def measured_of(spool: Spool, events: Iterable[Event]) -> Measured | None:
    """Return what was measured when the spool was accepted, or None."""
    taken = [event for event in events if event.code == "accepted" and "check_mm" in event.details]
    if not taken or not spool.accepted_at:
        return None
    event = max(taken, key=lambda one: one.number)
    told = event.details.get("print", {})
    return Measured(
        check_mm=event.details["check_mm"],
        print_mm=told.get("check_mm", spool.check_mm),
        tolerance_mm=told.get("tolerance_mm", spool.check_tolerance_mm),
        included_deg=event.details.get("included_deg"),
        print_deg=told.get("included_deg"),
        tolerance_deg=told.get("tolerance_deg"),
        tolerance_class=told.get("class", ""),
        by=event.person.short_name,
        reason=event.reason,
    )


def people_of(spool: Spool) -> list[Person]:
    """Return everybody of a spool's shop, once it is welded (one query)."""
    if not spool.the_standing.done.get("welded"):
        return []
    return list(Person.objects.filter(shop_id=spool.shop_id).order_by("last_name", "username"))


def welders_among(people: Iterable[Person]) -> list[Person]:
    """Return those who may weld."""
    return [one for one in people if one.is_active and one.may(frozenset({Role.FITTER, Role.FOREMAN}))]
