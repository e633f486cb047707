"""Miters: the curve is a plane through the pipe, and a torch held square can't foul."""

from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.wraps import Layout, WrapError, miter_end_wrap, miter_middle_wrap


@settings(max_examples=60, deadline=None)
@given(st.floats(20, 900), st.floats(0.5, 45))
def test_the_curve_of_an_end_piece_is_flat_when_rolled_back_on_the_pipe(od_mm, cut_deg):
    wrap = miter_end_wrap(od_mm=od_mm, wall_mm=od_mm / 20, cut_deg=cut_deg, layout=Layout(points=64))
    th = np.array([2 * pi * x / wrap.girth_mm for x, _ in wrap.curve_mm])
    points = np.column_stack([od_mm / 2 * np.cos(th), od_mm / 2 * np.sin(th), [-y for _, y in wrap.curve_mm]])
    _, singular, axes = np.linalg.svd(points - points[:-1].mean(axis=0))
    assert singular[2] < 1e-9 * od_mm
    tilt = np.degrees(np.arccos(abs(axes[2] @ [0, 0, 1])))
    assert tilt == pytest.approx(cut_deg, abs=1e-6)


def test_two_end_pieces_meet_on_one_ellipse_and_make_the_turn():
    wrap = miter_end_wrap(od_mm=168.275, wall_mm=7.112, cut_deg=22.5, layout=Layout(points=64))
    r, half = 168.275 / 2, tan(radians(22.5))
    for x, y in wrap.curve_mm:
        th = 2 * pi * x / wrap.girth_mm
        one = np.array([r * cos(th), r * sin(th), r * half - y])
        turn = radians(45.0)
        # the second pipe is the first one turned half around in the miter's plane
        normal = np.array([-sin(turn / 2), 0.0, cos(turn / 2)])
        mirrored = one - 2 * (one @ normal) * normal
        assert np.linalg.norm(one - mirrored) < 1e-9 * r


@settings(max_examples=60, deadline=None)
@given(st.floats(20, 900), st.floats(0.5, 30), st.floats(1.05, 4))
def test_both_cuts_of_a_middle_piece_pass_through_the_center_of_the_bend(od_mm, cut_deg, ratio):
    radius = od_mm / 2 * ratio
    wrap = miter_middle_wrap(
        od_mm=od_mm, wall_mm=od_mm / 20, cut_deg=cut_deg, effective_radius_mm=radius, layout=Layout(points=64)
    )
    for x, y in wrap.curve_mm:
        from_center = radius + od_mm / 2 * cos(2 * pi * x / wrap.girth_mm)
        assert y / from_center == pytest.approx(tan(radians(cut_deg)), rel=1e-9)


def test_a_square_torch_is_cut_back_to_the_bore_at_the_heel_only():
    plane = miter_end_wrap(od_mm=114.3, wall_mm=6.02, cut_deg=22.5)
    square = miter_end_wrap(od_mm=114.3, wall_mm=6.02, cut_deg=22.5, edge="torch square")
    assert square.ordinates[0].ordinate_mm == pytest.approx(6.02 * tan(radians(22.5)))
    assert square.ordinates[8].ordinate_mm == plane.ordinates[8].ordinate_mm
    assert all(s.ordinate_mm >= p.ordinate_mm for s, p in zip(square.ordinates, plane.ordinates, strict=True))
    assert "square to the pipe" in square.directions[0]


@pytest.mark.parametrize(
    ("change", "words"), [({"cut_deg": 0.0}, "more than 0"), ({"cut_deg": 46.0}, "45"), ({"wall_mm": 90.0}, "wall")]
)
def test_a_miter_that_cannot_be_is_refused(change, words):
    with pytest.raises(WrapError, match=words):
        miter_end_wrap(**{"od_mm": 168.275, "wall_mm": 7.0, "cut_deg": 15.0} | change)


def test_a_middle_piece_without_a_throat_is_refused():
    with pytest.raises(WrapError, match="throat vanishes"):
        miter_middle_wrap(od_mm=168.275, wall_mm=7.0, cut_deg=15.0, effective_radius_mm=84.0)
