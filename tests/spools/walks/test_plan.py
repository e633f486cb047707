"""A planned walk is the best there is: held against every possible plan of small cases."""

import random
import re
from itertools import pairwise
from math import ceil, inf

import pytest

from spools.walks.plan import Stop, WalkError, least_walk_mm, mark_order_mm, plan_walk


def stops_at(*stations: float) -> list[Stop]:
    return [Stop(number, str(number), float(station)) for number, station in enumerate(stations, start=1)]


def walked(stations: list[float], one: float, other: float) -> float:
    """The walk as it is: down at one shaft, to the nearer end, to the farther end, up at the other."""
    low, high = min(stations), max(stations)
    return min(
        abs(one - low) + (high - low) + abs(high - other),
        abs(one - high) + (high - low) + abs(low - other),
    )


def every_partition(items: list[float], most: int, groups: int):
    """Yield every way to put items into exactly so many groups of at most so many, neighbors or not."""
    if not items:
        if groups == 0:
            yield []
        return
    first, rest = items[0], items[1:]
    for mask in range(1 << len(rest)):
        group = [first, *(item for place, item in enumerate(rest) if mask >> place & 1)]
        if len(group) > most:
            continue
        left = [item for place, item in enumerate(rest) if not mask >> place & 1]
        if groups - 1 > len(left) or len(left) > most * (groups - 1):
            continue
        for others in every_partition(left, most, groups - 1):
            yield [group, *others]


def best_of_all(stations: list[float], shafts: list[float], most: int, *, same_shaft: bool) -> float:
    """The least walking of all plans, each group with each pair of shafts."""
    best = inf
    for groups in every_partition(stations, most, ceil(len(stations) / most)):
        total = sum(
            min(walked(group, one, other) for one in shafts for other in ([one] if same_shaft else shafts))
            for group in groups
        )
        best = min(best, total)
    return best


@pytest.mark.parametrize("seed", range(200))
def test_no_plan_of_a_small_case_walks_less(seed):
    rng = random.Random(seed)
    stations = [float(rng.randrange(0, 60)) for _ in range(rng.randrange(2, 8))]
    shafts = [float(shaft) for shaft in rng.sample(range(60), rng.randrange(1, 4))]
    most, same = rng.randrange(1, 5), bool(seed % 3 == 0)
    plan = plan_walk(stops_at(*stations), shafts_mm=shafts, in_a_shift=most, same_shaft=same)
    assert plan.walk_mm == pytest.approx(best_of_all(stations, shafts, most, same_shaft=same))
    assert sorted(stop.id for shift in plan.shifts for stop in shift.stops) == list(range(1, len(stations) + 1))
    assert all(len(shift.stops) <= most for shift in plan.shifts)


@pytest.mark.parametrize("seed", range(60))
def test_a_shift_in_its_order_is_as_long_as_it_says(seed):
    rng = random.Random(1000 + seed)
    stops = stops_at(*(rng.uniform(0, 4000) for _ in range(30)))
    plan = plan_walk(stops, shafts_mm=[0.0, 1900.0, 4000.0], in_a_shift=8, same_shaft=bool(seed % 2))
    for shift in plan.shifts:
        places = [shift.in_mm, *(stop.station_mm for stop in shift.stops), shift.out_mm]
        assert sum(abs(b - a) for a, b in pairwise(places)) == pytest.approx(shift.walk_mm)


@pytest.mark.parametrize("seed", range(40))
def test_it_never_walks_more_than_the_order_of_the_marks(seed):
    rng = random.Random(seed)
    stops = [Stop(n, str(n), rng.uniform(0, 9000)) for n in range(40)]
    plan = plan_walk(stops, shafts_mm=[0.0, 4500.0, 9000.0], in_a_shift=rng.randrange(3, 15))
    assert plan.saved_mm >= -1e-6


@pytest.mark.parametrize("seed", range(40))
def test_only_the_shafts_next_to_both_ends_are_worth_trying(seed):
    rng = random.Random(seed)
    shafts = sorted(rng.uniform(0, 100) for _ in range(6))
    low, high = sorted((rng.uniform(-20, 120), rng.uniform(-20, 120)))
    for same in (False, True):
        best = min(walked([low, high], a, b) for a in shafts for b in ([a] if same else shafts))
        assert least_walk_mm(low, high, shafts, same_shaft=same) == pytest.approx(best)


def test_marks_are_taken_in_the_order_that_people_count():
    stops = [Stop(1, "10", 0.0), Stop(2, "9", 100.0), Stop(3, "11", 0.0)]
    assert mark_order_mm(stops, shafts_mm=[0.0], in_a_shift=3) == 200.0


def test_nothing_to_do_is_no_walk():
    assert plan_walk([], shafts_mm=[0.0], in_a_shift=5).shifts == ()


def test_a_walk_without_a_shaft_says_what_to_set():
    with pytest.raises(WalkError, match=re.escape("at least one shaft")):
        plan_walk(stops_at(1), shafts_mm=[], in_a_shift=5)
    with pytest.raises(WalkError, match="how many"):
        plan_walk(stops_at(1), shafts_mm=[0.0], in_a_shift=0)
