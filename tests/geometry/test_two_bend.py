"""Two bends between two ports, with given turns."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.centerline import CenterlineRequest, Frame, Step, lay_out, walk
from geometry.rolling import rolled_pair, rolling_offset
from geometry.two_bend import Port, two_bends_with_turns

TURNS = st.floats(10.0, 120.0)
LEGS = st.floats(100.0, 2000.0)


def ports_of(legs, turns, twist):
    """Return the ports of a known spool laid out from the origin."""
    line = lay_out(CenterlineRequest(legs, turns, (twist,)))
    out = line.frames[-1].along
    return Port(line.points[0], line.frames[0].along), Port(line.points[-1], (-out[0], -out[1], -out[2]))


def apart_deg(one, other):
    return abs((one - other + 180.0) % 360.0 - 180.0)


@given(st.tuples(LEGS, LEGS, LEGS), st.tuples(TURNS, TURNS), st.floats(-150.0, 150.0).filter(lambda t: abs(t) > 10))
def test_a_known_spool_is_found_again_from_its_ports(legs, turns, twist):
    a, b = ports_of(legs, turns, twist)
    found = two_bends_with_turns(a, b, turn_1_deg=turns[0], turn_2_deg=turns[1])
    assert any(
        (one.leg_a_mm, one.middle_mm, one.leg_b_mm) == pytest.approx(legs, rel=1e-6)
        and apart_deg(one.twist_deg, twist) < 1e-5
        for one in found
    )
    assert len(found) <= 2


@given(st.tuples(LEGS, LEGS, LEGS), st.tuples(TURNS, TURNS), st.floats(-150.0, 150.0).filter(lambda t: abs(t) > 10))
def test_every_spool_found_ends_at_port_b_when_walked_by_another_hand(legs, turns, twist):
    """Rebuild by rotation matrices, not by the product's own walk."""
    a, b = ports_of(legs, turns, twist)
    for one in two_bends_with_turns(a, b, turn_1_deg=turns[0], turn_2_deg=turns[1]):
        end, out = by_matrices(a, b, one)
        assert end == pytest.approx(b.point, abs=1e-5)
        assert out == pytest.approx([-x for x in b.along], abs=1e-8)


def rotation(axis, degrees):
    """Return the rotation matrix about a unit axis (Rodrigues)."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    by = np.radians(degrees)
    return np.eye(3) + np.sin(by) * cross + (1 - np.cos(by)) * cross @ cross


def by_matrices(a, b, made):
    """Walk a spool from port A; the plane of its first bend holds the middle pipe, found by trying its roll."""
    along = np.array(a.along)
    side = np.cross(along, [0.3, 0.5, 0.8])
    side /= np.linalg.norm(side)

    def end_for(roll):
        axis = rotation(along, roll) @ side
        middle = rotation(axis, made.turn_1_deg) @ along
        second = rotation(middle, made.twist_deg) @ axis
        out = rotation(second, made.turn_2_deg) @ middle
        return made.leg_a_mm * along + made.middle_mm * middle + made.leg_b_mm * out, out

    lever_made, lever_there = end_for(0.0)[0], np.array(b.point) - a.point
    flat_made = lever_made - along * (lever_made @ along)
    flat_there = lever_there - along * (lever_there @ along)
    roll = np.degrees(np.arctan2(np.cross(flat_made, flat_there) @ along, flat_made @ flat_there))
    reached, out = end_for(roll)
    return np.array(a.point) + reached, out


def test_the_mirror_spool_has_the_other_twist_and_does_not_reach():
    """Trap 16: mirror spools differ only in the sign of the roll; walked, the wrong one misses port B."""
    a, b = ports_of((500.0, 700.0, 400.0), (45.0, 60.0), 70.0)
    found = two_bends_with_turns(a, b, turn_1_deg=45.0, turn_2_deg=60.0)
    right = next(one for one in found if apart_deg(one.twist_deg, 70.0) < 1e-6)
    start = Frame(a.point, a.along, lay_out(right.line).frames[0].axis)

    def end(twist):
        steps = [Step("pipe", right.leg_a_mm), Step("kink", degrees=45.0), Step("twist", degrees=twist)]
        steps += [Step("pipe", right.middle_mm), Step("kink", degrees=60.0), Step("pipe", right.leg_b_mm)]
        return walk(steps, start=start)[-1].point

    assert end(70.0) == pytest.approx(b.point, abs=1e-6)
    assert np.linalg.norm(np.subtract(end(-70.0), b.point)) > 100.0


def test_swapping_the_ports_swaps_the_legs_and_keeps_the_twist():
    a, b = ports_of((500.0, 700.0, 400.0), (45.0, 60.0), 70.0)
    one = two_bends_with_turns(a, b, turn_1_deg=45.0, turn_2_deg=60.0)
    other = two_bends_with_turns(b, a, turn_1_deg=60.0, turn_2_deg=45.0)
    assert [made.leg_a_mm for made in one] == pytest.approx([made.leg_b_mm for made in other])
    assert [made.twist_deg for made in one] == pytest.approx([made.twist_deg for made in other])


def test_a_rolling_offset_is_the_special_case_of_parallel_ports():
    set_mm, roll_mm = 14 * 25.4, 9.5 * 25.4
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((2000.0, set_mm, roll_mm), (-1.0, 0.0, 0.0))
    made = two_bends_with_turns(a, b, turn_1_deg=45.0, turn_2_deg=45.0)[0]
    offset = rolling_offset(set_mm=set_mm, roll_mm=roll_mm, turn_deg=45.0)
    assert made.middle_mm == pytest.approx(offset.travel_mm)
    assert abs(made.twist_deg) == pytest.approx(180.0)
    assert made.leg_a_mm == pytest.approx(made.leg_b_mm) == pytest.approx((2000.0 - offset.run_mm) / 2)


def test_a_flat_offset_of_unequal_turns_has_no_parallel_ports():
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((2000.0, 300.0, 0.0), (-1.0, 0.0, 0.0))
    assert two_bends_with_turns(a, b, turn_1_deg=45.0, turn_2_deg=30.0) == ()


def test_a_u_of_two_nineties_keeps_the_least_leg():
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((200.0, 600.0, 0.0), (1.0, 0.0, 0.0))
    made = two_bends_with_turns(a, b, turn_1_deg=90.0, turn_2_deg=90.0, least_leg_mm=250.0)[0]
    assert (made.leg_a_mm, made.middle_mm, made.leg_b_mm) == pytest.approx((450.0, 600.0, 250.0))
    assert made.twist_deg == pytest.approx(0.0)


def test_turns_that_cannot_reach_the_other_direction_give_nothing():
    """Two 30s turn 60 at most; these axes need 90."""
    a, b = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((900.0, 900.0, 50.0), (0.0, -1.0, 0.0))
    assert two_bends_with_turns(a, b, turn_1_deg=30.0, turn_2_deg=30.0) == ()


def test_a_rolled_pair_of_45s_makes_60_and_throws_the_axis():
    """Rolling two 45s to get 60 with 12 in between throws the axis 6.93 in: it never replaces a trimmed elbow."""
    pair = rolled_pair(turn_1_deg=45.0, turn_2_deg=45.0, twist_deg=90.0, middle_mm=12.0)
    assert pair.turn_deg == pytest.approx(60.0)
    assert pair.axes_miss_mm == pytest.approx(6.93, abs=0.005)


@given(TURNS.filter(lambda t: t < 80), TURNS.filter(lambda t: t < 80), st.floats(5.0, 175.0))
def test_a_rolled_pair_agrees_with_the_walked_line(one, two, twist):
    line = lay_out(CenterlineRequest((500.0, 300.0, 500.0), (one, two), (twist,)))
    pair = rolled_pair(turn_1_deg=one, turn_2_deg=two, twist_deg=twist, middle_mm=300.0)
    first, last = np.array(line.frames[0].along), np.array(line.frames[-1].along)
    normal = np.cross(first, last)
    miss = abs(np.subtract(line.points[-1], line.points[0]) @ normal) / np.linalg.norm(normal)
    assert pair.turn_deg == pytest.approx(np.degrees(np.arccos(first @ last)), abs=1e-5)
    assert pair.axes_miss_mm == pytest.approx(miss, rel=1e-5, abs=1e-5)


def test_ports_out_of_the_plane_of_two_given_turns_are_not_joined_by_other_turns():
    one, other = Port((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), Port((1100.0, 900.0, 160.0), (0.0, -1.0, 0.0))
    assert two_bends_with_turns(one, other, turn_1_deg=45, turn_2_deg=45, least_leg_mm=148.45) == ()
    flat = Port((1100.0, 900.0, 0.0), (0.0, -1.0, 0.0))
    assert two_bends_with_turns(one, flat, turn_1_deg=45, turn_2_deg=45, least_leg_mm=148.45)
