"""Fill trucks in the order of the site, within what the truck and the galvanizer's kettle take. Mm and kg."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Item:
    """One spool ready to go: its weight and its envelope, length, width and height."""

    id: int
    kg: float
    size_mm: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What one trip takes; ``kettle_mm`` is length, width and depth of the zinc, nothing on the way to site."""

    truck_kg: float
    deck_mm: float
    kettle_mm: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Filled:
    """The trips in order, each with its spools in order; and what can't go at all, with the reason."""

    trips: tuple[tuple[int, ...], ...]
    left: tuple[tuple[int, str], ...]

    def trip_of(self) -> dict[int, int]:
        """Return each spool's trip, the first is 1."""
        return {item: number for number, trip in enumerate(self.trips, start=1) for item in trip}


def fill(items: Sequence[Item], limits: Limits) -> Filled:
    """Fill trip after trip in the order given; a spool that would overload a trip begins the next one.

    The order is kept, because the site takes them in it: a lighter spool never overtakes a heavier one.

    >>> fill([Item(1, 60, (1, 1, 1)), Item(2, 60, (1, 1, 1))], Limits(truck_kg=100, deck_mm=9)).trips
    ((1,), (2,))
    """
    trips: list[list[int]] = []
    left: list[tuple[int, str]] = []
    on_trip = 0.0
    for item in items:
        why_not = refusal(item, limits)
        if why_not:
            left.append((item.id, why_not))
            continue
        if not trips or on_trip + item.kg > limits.truck_kg:
            trips.append([])
            on_trip = 0.0
        trips[-1].append(item.id)
        on_trip += item.kg
    return Filled(tuple(tuple(trip) for trip in trips), tuple(left))


def refusal(item: Item, limits: Limits) -> str:
    """Return why a spool can't go at all, or nothing; it may be turned any way to fit the kettle."""
    if item.kg > limits.truck_kg:
        return "too heavy for the truck"
    if max(item.size_mm) > limits.deck_mm:
        return "longer than the truck's deck"
    kettle = limits.kettle_mm
    if kettle is not None and any(s > k for s, k in zip(sorted(item.size_mm), sorted(kettle), strict=True)):
        return "larger than the kettle: ask the galvanizer about two dips"
    return ""
