"""Trucks are filled in the site's order, never over their limits, and nothing is lost or carried twice."""

from hypothesis import given
from hypothesis import strategies as st

from spools.flow.truck_fill import Item, Limits, fill, refusal

LIMITS = Limits(truck_kg=100.0, deck_mm=6000.0, kettle_mm=(5000.0, 1000.0, 1500.0))

SIZES = st.integers(1, 7000)
ITEMS = st.lists(st.builds(Item, st.just(0), st.integers(1, 130), st.tuples(SIZES, SIZES, SIZES)), max_size=15).map(
    lambda items: [Item(number, item.kg, item.size_mm) for number, item in enumerate(items)]
)


@given(ITEMS)
def test_every_spool_is_on_one_trip_or_left_with_a_reason(items):
    filled = fill(items, LIMITS)
    carried = [number for trip in filled.trips for number in trip]
    assert sorted([*carried, *(number for number, _ in filled.left)]) == [item.id for item in items]
    assert all(why for _, why in filled.left)


@given(ITEMS)
def test_no_trip_is_over_the_truck_s_limit_and_the_order_is_the_site_s(items):
    filled = fill(items, LIMITS)
    kg = {item.id: item.kg for item in items}
    assert all(sum(kg[number] for number in trip) <= LIMITS.truck_kg for trip in filled.trips)
    carried = [number for trip in filled.trips for number in trip]
    assert carried == sorted(carried)


@given(ITEMS)
def test_a_trip_ends_only_where_the_next_spool_would_overload_it(items):
    filled = fill(items, LIMITS)
    kg = {item.id: item.kg for item in items}
    for trip, following in zip(filled.trips, filled.trips[1:], strict=False):
        assert sum(kg[number] for number in trip) + kg[following[0]] > LIMITS.truck_kg


def test_a_spool_may_be_turned_to_fit_the_kettle():
    assert refusal(Item(1, 5, (900, 4900, 1400)), LIMITS) == ""
    assert refusal(Item(1, 5, (1400, 900, 4900)), LIMITS) == ""
    assert "kettle" in refusal(Item(1, 5, (1100, 4900, 1400)), LIMITS)


def test_each_limit_has_its_own_words():
    assert refusal(Item(1, 101, (1, 1, 1)), LIMITS) == "too heavy for the truck"
    assert refusal(Item(1, 5, (6001, 1, 1)), LIMITS) == "longer than the truck's deck"
