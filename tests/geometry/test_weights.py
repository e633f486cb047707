"""Weights before zinc and the zinc that comes on."""

from math import cos, inf, nan, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.tables import all_pipes, pipe
from geometry.weights import elbow_kg, pipe_kg, pounds, zinc_kg

STEEL_KG_PER_MM3 = 7.85e-6
pipes = st.sampled_from(all_pipes())


@given(pipes, st.floats(0, 20000))
def test_pipe_weighs_its_ring_of_steel(row, length):
    ring_mm2 = pi / 4 * (row.od_mm**2 - row.id_mm**2)
    assert pipe_kg(row, length_mm=length) == pytest.approx(ring_mm2 * length * STEEL_KG_PER_MM3, rel=1e-6)


@given(pipes, st.floats(0, 9000), st.floats(0, 9000))
def test_two_pieces_weigh_as_much_as_one_of_their_length(row, one, two):
    apart = pipe_kg(row, length_mm=one) + pipe_kg(row, length_mm=two)
    assert apart == pytest.approx(pipe_kg(row, length_mm=one + two), rel=1e-12)


@pytest.mark.parametrize("turn", [30.0, 52.5, 90.0])
def test_an_elbow_weighs_its_ring_of_steel_swept_fiber_by_fiber(turn):
    """Second method: the wall cut into fibers, each as long as its own arc."""
    row, radius_mm, around, across = pipe("4", "40"), 152.4, 72, 40
    thick_mm = row.wall_mm / across
    swept_mm3 = 0.0
    for layer in range(across):
        r_mm = row.id_mm / 2 + (layer + 0.5) * thick_mm
        fiber_mm2 = 2 * pi * r_mm * thick_mm / around
        for k in range(around):
            swept_mm3 += fiber_mm2 * (radius_mm + r_mm * cos(2 * pi * (k + 0.5) / around)) * radians(turn)
    expected = swept_mm3 * STEEL_KG_PER_MM3
    assert elbow_kg(row, bend_radius_mm=radius_mm, turn_deg=turn) == pytest.approx(expected, rel=1e-6)


@given(pipes, st.floats(1, 9000), st.floats(10, 200))
def test_zinc_grows_with_length_and_coat_and_covers_both_sides(row, length, coat):
    once = zinc_kg(row, length_mm=length, coating_um=coat)
    assert zinc_kg(row, length_mm=2 * length, coating_um=coat) == pytest.approx(2 * once)
    assert zinc_kg(row, length_mm=length, coating_um=2 * coat) == pytest.approx(2 * once)
    outside_only = pi * row.od_mm * length / 1e6 * coat * 7.07 / 1000
    assert outside_only < once < 2 * outside_only


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_what_is_no_length_has_no_weight(bad):
    with pytest.raises(ValueError, match="zero or more"):
        pipe_kg(pipe("4", "40"), length_mm=bad)


def test_a_pound_is_the_international_one():
    assert pounds(0.45359237) == 1.0
