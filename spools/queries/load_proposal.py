"""What could go on the next load: in the order of the site, trip by trip within the limits, rack by rack."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sin

from geometry.tables import pipe
from geometry.weights import KG_PER_LB
from spools.flow.truck_fill import Item, Limits, fill
from spools.models import Load, Main, Person, Shop, Spool
from spools.queries.loads import ready_for
from spools.say_lengths import say_station

IN_MM = 25.4
RACK_HOLDS = 12  # a default of ours; the driver writes the rack it really went on
MOST = 500


@dataclass(frozen=True, slots=True)
class Proposed:
    """One spool with the trip and rack that it is proposed for, or the reason why it can't go."""

    spool: Spool
    trip: int
    rack: str
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Reach:
    """The stretch between two shafts of a main, with how much of it is ready for the truck."""

    code: str
    words: str
    ready: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """A load as proposed, with the limits that it keeps to."""

    lines: tuple[Proposed, ...]
    trips: int
    limits: Limits
    reaches: tuple[Reach, ...] = ()
    reach: str = ""


def limits_of(shop: Shop, kind: str) -> Limits:
    """Return what one trip takes by the shop's set-up."""
    kettle = (shop.kettle_length_in * IN_MM, shop.kettle_width_in * IN_MM, shop.kettle_depth_in * IN_MM)
    return Limits(
        truck_kg=shop.truck_lb * KG_PER_LB,
        deck_mm=shop.truck_deck_in * IN_MM,
        kettle_mm=kettle if kind == Load.Kind.COATING else None,
    )


def size_of(spool: Spool) -> tuple[float, float, float]:
    """Return the box around a spool, in mm: with one bend along its ends, its pipe's width, the bend's height."""
    if spool.box_mm:
        return spool.box_mm[0], spool.box_mm[1], spool.box_mm[2]
    od_mm = pipe(spool.nps, spool.schedule).od_mm
    height_mm = spool.leg_a_mm * spool.leg_b_mm * sin(radians(spool.turn_deg)) / spool.check_mm
    return spool.check_mm + od_mm, od_mm, height_mm + od_mm


def weight_on(spool: Spool, kind: str) -> float:
    """Return what a spool weighs on that truck, in kg: black on the way to the zinc, with its zinc to site."""
    return spool.black_kg + (spool.zinc_kg if kind == Load.Kind.SITE else 0.0)


def propose_load(kind: str, person: Person, *, reach: str = "") -> Proposal:
    """Return the proposal for the galvanizer, or for one reach of the site (two queries)."""
    ready = ready_for(kind, person).defer("solution", "standing", "route")
    spools = list(ready.select_related("tie_in__main")[:MOST])
    reaches: tuple[Reach, ...] = ()
    if kind == Load.Kind.SITE:
        reaches = _reaches(spools)
        if any(one.code == reach for one in reaches):
            spools = [spool for spool in spools if _reach_code(spool) == reach]
        else:
            reach = ""
    limits = limits_of(person.the_shop, kind)
    filled = fill([Item(spool.id, weight_on(spool, kind), size_of(spool)) for spool in spools], limits)
    trips, why_not = filled.trip_of(), dict(filled.left)
    seen: Counter[int] = Counter()
    lines = []
    for spool in spools:
        trip = trips.get(spool.id, 0)
        rack = str(seen[trip] // RACK_HOLDS + 1) if trip and len(spools) > RACK_HOLDS else ""
        seen[trip] += 1
        lines.append(Proposed(spool, trip, rack, why_not.get(spool.id, "")))
    return Proposal(tuple(lines), len(filled.trips), limits, reaches, reach)


def overload(spools: Sequence[Spool], trip: dict[int, int], kind: str, limits: Limits) -> dict[int, float]:
    """Return by how many kg each trip is over what the truck takes; only those that are."""
    weights: dict[int, float] = {}
    for spool in spools:
        number = trip.get(spool.id, 1)
        weights[number] = weights.get(number, 0.0) + weight_on(spool, kind)
    return {number: kg - limits.truck_kg for number, kg in sorted(weights.items()) if kg > limits.truck_kg}


def _reaches(spools: Sequence[Spool]) -> tuple[Reach, ...]:
    counts: Counter[str] = Counter()
    words: dict[str, str] = {}
    for spool in sorted(spools, key=lambda one: (one.tie_in.main.name, one.tie_in.station_mm)):
        code = _reach_code(spool)
        counts[code] += 1
        words.setdefault(code, _reach_words(spool))
    return tuple(Reach(code, words[code], count) for code, count in counts.items())


def _reach_code(spool: Spool) -> str:
    return f"{spool.tie_in.main_id}-{_between(spool.tie_in.main, spool.tie_in.station_mm)}"


def _between(main: Main, station_mm: float) -> int:
    """Return how many shafts lie at or before a station."""
    return sum(shaft <= station_mm for shaft in main.access_mm)


def _reach_words(spool: Spool) -> str:
    main, units = spool.tie_in.main, spool.tie_in.job.units
    edges = [main.station_from_mm, *sorted(main.access_mm), main.station_to_mm]
    before = [edge for edge in edges if edge <= spool.tie_in.station_mm]
    after = [edge for edge in edges if edge > spool.tie_in.station_mm]
    if not before or not after:
        return main.name
    return f"{main.name} {say_station(max(before), units)} to {say_station(min(after), units)}"
