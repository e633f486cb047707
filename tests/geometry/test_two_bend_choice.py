"""The two-bend spool to build where the turns are free."""

from dataclasses import replace
from math import radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.centerline import distance_mm
from geometry.two_bend import Port
from geometry.two_bend_choice import (
    LENGTH_WEIGHT,
    NoTwoBend,
    TwoBendLimits,
    free_two_bend,
    is_whole,
    lacks_mm,
    two_bend_choices,
)
from tests.geometry.test_two_bend import ports_of

IN = 25.4
LIMITS = TwoBendLimits(radius_mm=152.4, least_outer_mm=100.0)
WITH_WHOLE = replace(LIMITS, whole_take_offs_mm=((45.0, 63.5), (90.0, 152.4)))  # NPS 4 long radius, ASME B16.9


@settings(max_examples=25, deadline=None)
@given(
    st.tuples(st.floats(5.0, 88.0), st.floats(5.0, 88.0)),
    st.floats(-180.0, 180.0),
    st.tuples(st.floats(10.0, 800.0), st.floats(10.0, 800.0), st.floats(10.0, 800.0)),
)
def test_where_some_spool_fits_one_is_found_and_it_ends_at_port_b(turns, twist, spare):
    first, second = (152.4 * tan(radians(turn) / 2) for turn in turns)
    legs = (first + 100.0 + spare[0], first + second + spare[1], second + 100.0 + spare[2])
    a, b = ports_of(legs, turns, twist)
    made = free_two_bend(a, b, LIMITS)
    assert made.off_mm < 1e-6
    assert lacks_mm(made, LIMITS) == 0.0
    between = max(distance_mm(a.point, b.point), LIMITS.radius_mm)
    length = made.leg_a_mm + made.middle_mm + made.leg_b_mm
    cost = made.turn_1_deg + made.turn_2_deg + LENGTH_WEIGHT * length / between
    assert cost <= sum(turns) + LENGTH_WEIGHT * sum(legs) / between + 0.1


def test_whole_fittings_come_before_the_free_choice():
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((2000.0, 400.0, 300.0), (-1.0, 0.0, 0.0))
    choices = two_bend_choices(a, b, WITH_WHOLE)
    assert is_whole(choices[0], WITH_WHOLE)
    assert not is_whole(choices[-1], WITH_WHOLE)
    assert (choices[0].turn_1_deg, choices[0].turn_2_deg) == pytest.approx((45.0, 45.0))
    assert choices[-1].turn_1_deg < 45.0


def test_ports_too_near_say_what_is_missing():
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((150.0, 60.0, 0.0), (-1.0, 0.0, 0.0))
    with pytest.raises(NoTwoBend, match="in are missing"):
        two_bend_choices(a, b, LIMITS)


def test_the_same_ports_give_the_same_spool_each_time():
    a, b = ports_of((500.0, 700.0, 400.0), (45.0, 60.0), 70.0)
    assert free_two_bend(a, b, LIMITS) == free_two_bend(a, b, LIMITS)


def test_swapping_the_ports_swaps_the_spool():
    a, b = ports_of((500.0, 700.0, 400.0), (45.0, 60.0), 70.0)
    one, other = free_two_bend(a, b, LIMITS), free_two_bend(b, a, LIMITS)
    assert one.leg_a_mm == pytest.approx(other.leg_b_mm, abs=5.0)
    assert one.twist_deg == pytest.approx(other.twist_deg, abs=1.0)


def test_a_mirrored_pair_of_ports_gives_the_opposite_twist():
    a, b = ports_of((500.0, 700.0, 400.0), (45.0, 60.0), 70.0)

    def mirrored(port):
        return Port((port.point[0], port.point[1], -port.point[2]), (port.along[0], port.along[1], -port.along[2]))

    one, other = free_two_bend(a, b, LIMITS), free_two_bend(mirrored(a), mirrored(b), LIMITS)
    assert one.turn_1_deg == pytest.approx(other.turn_1_deg, abs=1e-6)
    assert one.twist_deg == pytest.approx(-other.twist_deg, abs=1e-6)


def test_no_bend_is_so_small_that_it_is_not_made():
    a, b = ports_of((500.0, 700.0, 400.0), (60.0, 4.0), 90.0)
    made = free_two_bend(a, b, LIMITS)
    assert min(made.turn_1_deg, made.turn_2_deg) >= 3.0


def test_a_whole_45_needs_the_room_of_its_table_and_not_of_the_formula():
    """NPS 22: the standard's 45 is 0.17 in shorter than R tan 22.5, so it fits where a trimmed one doesn't."""
    table, formula = 13.5 * IN, 33.0 * IN * tan(radians(22.5))
    assert formula - table > 0.16 * IN
    middle = table + table + 0.1 * IN
    a, b = ports_of((800.0, middle, 800.0), (45.0, 45.0), 180.0)
    limits = TwoBendLimits(radius_mm=33.0 * IN, least_outer_mm=100.0, whole_take_offs_mm=((45.0, table),))
    made = two_bend_choices(a, b, limits)[0]
    assert is_whole(made, limits)
    assert lacks_mm(made, limits, take_offs_mm=(table, table)) == 0.0
    assert lacks_mm(made, limits) > 0.0


def test_without_whole_fittings_at_hand_none_is_chosen():
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((2000.0, 400.0, 300.0), (-1.0, 0.0, 0.0))
    assert len(two_bend_choices(a, b, LIMITS)) == 1


def test_each_bend_has_the_room_of_its_own_radius():
    a, b = ports_of((900.0, 1200.0, 900.0), (60.0, 60.0), 80.0)
    limits = TwoBendLimits(radius_mm=152.4, second_radius_mm=571.5, least_outer_mm=100.0)
    made = free_two_bend(a, b, limits)
    first, second = (
        radius * tan(radians(turn) / 2) for radius, turn in ((152.4, made.turn_1_deg), (571.5, made.turn_2_deg))
    )
    assert made.leg_a_mm >= first + 100.0
    assert made.leg_b_mm >= second + 100.0
    assert made.middle_mm >= first + second
