"""Center lines laid out in space."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.centerline import CenterlineError, CenterlineRequest, Step, closing_mm, distance_mm, lay_out, walk
from tests.geometry.laid_end_to_end import wanted

TURN = st.floats(0.5, 179.0)
LEG = st.floats(1.0, 5000.0)
TWIST = st.floats(-360.0, 360.0)


@given(legs=st.tuples(LEG, LEG, LEG, LEG), turns=st.tuples(TURN, TURN, TURN), twists=st.tuples(TWIST, TWIST))
def test_the_last_point_is_where_rotation_matrices_put_it(legs, turns, twists):
    layout = lay_out(CenterlineRequest(legs, turns, twists))
    place, way = wanted(legs, turns, twists)
    assert np.allclose(layout.points[-1], place, rtol=0, atol=1e-9 * sum(legs))
    assert np.allclose(layout.frames[-1].along, way @ [1, 0, 0], rtol=0, atol=1e-12)


def test_a_twist_of_0_turns_the_same_way_and_180_makes_a_flat_offset():
    same = lay_out(CenterlineRequest((100.0, 100.0, 100.0), (90.0, 90.0), (0.0,))).points[-1]
    offset = lay_out(CenterlineRequest((100.0, 100.0, 100.0), (90.0, 90.0), (180.0,))).points[-1]
    assert same == pytest.approx((0.0, 100.0, 0.0), abs=1e-12)
    assert offset == pytest.approx((200.0, 100.0, 0.0), abs=1e-12)


def test_a_twist_of_90_goes_up_from_the_plane_right_hand_along_the_flow():
    end = lay_out(CenterlineRequest((100.0, 100.0, 100.0), (90.0, 90.0), (90.0,))).points[-1]
    # flow +y after the first bend; its axis +z rolls right-hand about +y to +x; turning +y about +x goes to +z
    assert end == pytest.approx((100.0, 100.0, 100.0), abs=1e-12)


@given(a=LEG, b=LEG, included=st.floats(1.0, 180.0))
def test_closing_is_the_distance_of_two_points(a, b, included):
    angle = np.radians(included)
    assert closing_mm(a, b, included_deg=included) == pytest.approx(
        np.hypot(a - b * np.cos(angle), b * np.sin(angle)), rel=1e-9
    )


def test_an_arc_ends_on_its_own_tangent():
    end = walk([Step("arc", degrees=60.0, radius_mm=100.0)])[-1]
    assert end.point == pytest.approx((86.60254037844386, 50.0, 0.0))
    assert end.along == pytest.approx((0.5, 0.8660254037844386, 0.0))


@pytest.mark.parametrize(
    ("legs", "turns", "twists"),
    [
        ((10.0,), (30.0,), ()),
        ((10.0, 10.0, 10.0), (30.0, 30.0), ()),
        ((10.0, 0.0), (30.0,), ()),
        ((10.0, -5.0), (30.0,), ()),
        ((10.0, float("nan")), (30.0,), ()),
        ((10.0, 10.0), (0.0,), ()),
        ((10.0, 10.0), (180.0,), ()),
        ((10.0, 10.0), (float("nan"),), ()),
        ((10.0, 10.0, 10.0), (30.0, 30.0), (float("inf"),)),
        ((), (), ()),
    ],
)
def test_what_is_no_center_line_is_refused(legs, turns, twists):
    with pytest.raises(CenterlineError):
        CenterlineRequest(legs, turns, twists)


def test_one_leg_is_straight_pipe():
    assert lay_out(CenterlineRequest((250.0,))).points == ((0.0, 0.0, 0.0), (250.0, 0.0, 0.0))


def test_a_distance_is_the_same_both_ways():
    assert distance_mm((1.0, 2.0, 3.0), (4.0, 6.0, 15.0)) == distance_mm((4.0, 6.0, 15.0), (1.0, 2.0, 3.0)) == 13.0
