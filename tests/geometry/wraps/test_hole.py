"""The hole in the main: on both pipes, where the branch's template is, and readable from the right side."""

from dataclasses import replace
from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.wraps import Layout, Saddle, hole_layout
from geometry.wraps.hole import hole_edge_radius_mm
from geometry.wraps.saddle import distance_function
from tests.geometry.wraps.test_saddle import branch_frame, saddles

LATERAL = Saddle(main_od_mm=323.85, main_wall_mm=9.525, branch_od_mm=114.3, branch_wall_mm=6.02, included_deg=45.0)


def on_the_main(saddle, point):
    """Roll a hole's point back onto the main, in space."""
    large = saddle.main_od_mm / 2
    z0 = np.sqrt(large**2 - saddle.offset_mm**2)
    pierce = z0 / np.tan(np.radians(saddle.included_deg))
    side = -1.0 if saddle.included_deg > 90 else 1.0
    around = point.around_mm / large
    return np.array([pierce + side * point.along_mm, large * sin(around), large * cos(around)])


@settings(max_examples=100, deadline=None)
@given(saddles())
def test_points_of_the_hole_lie_on_both_pipes(saddle):
    along, _, left = branch_frame(saddle)
    radius = hole_edge_radius_mm(saddle)
    for point in hole_layout(saddle, Layout(lines=32)).points:
        place = on_the_main(saddle, point)
        assert np.hypot(place[1], place[2]) == pytest.approx(saddle.main_od_mm / 2, rel=1e-12)
        from_axis = place - saddle.offset_mm * left
        assert np.linalg.norm(from_axis - (from_axis @ along) * along) == pytest.approx(radius, rel=1e-7)


@settings(max_examples=100, deadline=None)
@given(saddles(), st.sampled_from(["inside", "outside"]))
def test_the_template_and_the_hole_meet_point_by_point(saddle, edge):
    saddle = replace(saddle, seat="set-on", edge=edge)
    along, heel, left = branch_frame(saddle)
    radius, distance = hole_edge_radius_mm(saddle), distance_function(saddle)
    for point in hole_layout(saddle, Layout(lines=32)).points:
        th = np.radians(point.around_branch_deg)
        cope = saddle.offset_mm * left + radius * (cos(th) * heel + sin(th) * left) + distance(th) * along
        assert np.linalg.norm(cope - on_the_main(saddle, point)) < 1e-7 * saddle.main_od_mm


def test_a_set_on_hole_follows_the_bore_and_a_set_in_hole_the_outside():
    assert hole_layout(LATERAL).length_mm == pytest.approx((114.3 - 2 * 6.02) / sin(pi / 4))
    set_in = replace(LATERAL, seat="set-in", edge="outside")
    assert hole_layout(set_in).length_mm == pytest.approx(114.3 / sin(pi / 4))


def test_a_thick_sheet_widens_the_hole_s_template_around_the_main_only():
    thin, thick = hole_layout(LATERAL), hole_layout(LATERAL, Layout(sheet_mm=1.0))
    assert thick.length_mm == thin.length_mm
    assert thick.width_mm / thin.width_mm == pytest.approx((323.85 + 1.0) / 323.85)
    assert thick.main_girth_mm == pytest.approx(pi * 324.85)


def test_an_equal_branch_asks_no_more_than_a_quarter_turn_each_way():
    equal = replace(LATERAL, branch_od_mm=323.85 * (1 + 1e-10), branch_wall_mm=9.525, edge="outside")
    assert hole_layout(equal).width_mm == pytest.approx(pi * 323.85 / 2)


def test_a_branch_that_leans_back_points_its_crotch_against_the_main():
    assert hole_layout(LATERAL).toward_crotch_along_main is True
    assert hole_layout(replace(LATERAL, included_deg=135.0)).toward_crotch_along_main is False


def test_the_offset_moves_the_hole_to_the_left_of_the_top_line():
    hole = hole_layout(replace(LATERAL, offset_mm=50.0))
    assert hole.center_around_mm == pytest.approx(161.925 * np.arcsin(50.0 / 161.925))
    assert all(point.around_mm > 0 for point in hole.points if 0 <= point.around_branch_deg <= 180)
