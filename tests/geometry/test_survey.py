"""Two surveyed axes to one tie-in."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.axes import SurveyError, axis_from_direction, axis_from_shots
from geometry.centerline import CenterlineRequest, lay_out
from geometry.survey import tie_in_from_axes

IN = 25.4


def reversed_way(u):
    return -u[0], -u[1], -u[2]


def axes_of(a, b, turn, shift=(0.0, 0.0, 0.0), skew=0.0):
    """Return the two axes of a known planar spool, shifted in space, port B lifted out of the plane by ``skew``."""
    line = lay_out(CenterlineRequest((a, b), (turn,)))
    end = line.frames[-1]
    port_a = tuple(np.add(line.points[0], shift))
    port_b = tuple(np.add(np.add(line.points[-1], shift), (0.0, 0.0, skew)))
    return axis_from_direction(port_a, end_along(line, 0)), axis_from_direction(port_b, reversed_way(end.along))


def end_along(line, leg):
    return line.frames[leg].along


def codes(tie_in):
    return [finding.code for finding in tie_in.findings]


@given(st.floats(100.0, 3000.0), st.floats(100.0, 3000.0), st.floats(5.0, 175.0))
def test_a_known_spool_comes_back_from_its_ports(a, b, turn):
    made = tie_in_from_axes(*axes_of(a, b, turn), joints_take_mm=3.0)
    assert made.make == "one_bend"
    assert (made.leg_a_mm, made.leg_b_mm) == pytest.approx((a, b), rel=1e-9)
    assert made.turn_deg == pytest.approx(turn, rel=1e-9)


def test_included_and_turn_are_not_exchanged_by_the_survey():
    """Trap 2: a gentle bend of turn 30 reads 150 included."""
    made = tie_in_from_axes(*axes_of(500.0, 400.0, 30.0), joints_take_mm=3.0)
    assert made.included_deg == pytest.approx(150.0)


@given(st.floats(1e6, 1e9), st.floats(-1e9, 1e9))
def test_state_plane_coordinates_cost_no_digits_that_the_shots_have(east, north):
    """Subtract the first port first: at 1e9 mm a double still holds 1e-7 mm."""
    axes = axes_of(900.0, 600.0, 45.0, shift=(east, north, 5e4))
    made = tie_in_from_axes(*axes, joints_take_mm=3.0)
    assert (made.leg_a_mm, made.leg_b_mm) == pytest.approx((900.0, 600.0), abs=2e-6)


def test_shots_far_from_the_origin_give_the_same_axis():
    shots = [(0.0, 0.0, 0.0), (300.0, 1.0, 0.0), (600.0, 0.0, 2.0)]
    far = [(x + 6.1e8, y + 1.8e8, z + 1e5) for x, y, z in shots]
    assert axis_from_shots(far).along == pytest.approx(axis_from_shots(shots).along, abs=1e-9)


@given(st.floats(0.0, 50.0))
def test_skew_is_the_distance_between_the_axes(skew):
    made = tie_in_from_axes(*axes_of(900.0, 600.0, 50.0, skew=skew), joints_take_mm=3.0)
    assert made.skew_mm == pytest.approx(skew, abs=1e-9)
    assert made.make == ("one_bend" if skew <= 3.0 else "two_bends")


def test_skew_inside_what_the_joints_take_makes_a_planar_spool():
    made = tie_in_from_axes(*axes_of(900.0, 600.0, 50.0, skew=2.0), joints_take_mm=3.0)
    assert made.make == "one_bend"
    assert codes(made) == ["skew_taken"]


def test_a_crossing_behind_a_port_stays_negative():
    """Trap 14: abs() here builds the wrong spool."""
    a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    b = axis_from_direction((-300.0, 500.0, 0.0), (0.0, -1.0, 0.0))
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert made.leg_a_mm == pytest.approx(-300.0)
    assert made.make == "two_bends"
    assert "crosses_behind_port" in codes(made)


def test_axes_parallel_and_apart_ask_for_two_bends():
    a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    b = axis_from_direction((2000.0, 300.0, 0.0), (-1.0, 0.0, 0.0))
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert made.make == "two_bends"
    assert made.pi is None
    assert made.skew_mm == pytest.approx(300.0)
    assert codes(made) == ["parallel_axes"]


def test_ports_in_one_line_are_straight_pipe():
    a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    b = axis_from_direction((2000.0, 0.0, 0.0), (-1.0, 0.0, 0.0))
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert made.make == "straight"
    assert made.leg_a_mm + made.leg_b_mm == pytest.approx(2000.0)


@pytest.mark.parametrize(("base", "sigma"), [(12.0, 0.39), (24.0, 0.23), (48.0, 0.16)])
def test_the_sigma_of_skew_grows_as_the_base_shrinks(base, sigma):
    """Trap 15, measured elsewhere: shots good to 1/16 in, PI 31 in away: 0.39, 0.23 and 0.16 in."""
    c, s = cos(radians(60.0)), sin(radians(60.0))
    a = axis_from_shots([(-base * IN, 0.0, 0.0), (0.0, 0.0, 0.0)])
    b_port = (31 * IN + 31 * IN * c, 31 * IN * s, 0.0)
    b = axis_from_shots([(b_port[0] + base * IN * c, b_port[1] + base * IN * s, 0.0), b_port])
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert (made.leg_a_mm / IN, made.leg_b_mm / IN) == pytest.approx((31.0, 31.0))
    assert made.sigma_skew_mm / IN == pytest.approx(sigma, abs=0.006)


def test_a_skew_under_two_sigmas_is_not_proved():
    c, s = cos(radians(60.0)), sin(radians(60.0))
    a = axis_from_shots([(-12 * IN, 0.0, 0.0), (0.0, 0.0, 0.0)])
    port = (31 * IN * (1 + c), 31 * IN * s, 0.5 * IN)
    b = axis_from_shots([(port[0] + 12 * IN * c, port[1] + 12 * IN * s, port[2]), port])
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert not made.proved
    assert "skew_not_proved" in codes(made)


def test_sigmas_agree_with_random_shots():
    rng = np.random.default_rng(5)
    sigma = 1.0
    turn = radians(70.0)
    shots_a = np.array([[-600.0, 0, 0], [-300, 0, 0], [0, 0, 0]])
    out = np.array([np.cos(turn), np.sin(turn), 0.0])
    port = np.array([900.0, 0, 0]) + 700 * out
    shots_b = np.array([port + 500 * out, port])
    legs, skews = [], []
    for _ in range(2000):
        a = axis_from_shots([tuple(p) for p in shots_a + rng.normal(0, sigma, shots_a.shape)], sigma_mm=sigma)
        b = axis_from_shots([tuple(p) for p in shots_b + rng.normal(0, sigma, shots_b.shape)], sigma_mm=sigma)
        made = tie_in_from_axes(a, b, joints_take_mm=3.0)
        legs.append((made.leg_a_mm, made.leg_b_mm, made.included_deg))
        skews.append(made.skew_mm)
    spread = np.std(legs, axis=0)
    assert made.sigma_a_mm == pytest.approx(spread[0], rel=0.08)
    assert made.sigma_b_mm == pytest.approx(spread[1], rel=0.08)
    assert made.sigma_included_deg == pytest.approx(spread[2], rel=0.08)
    assert made.sigma_skew_mm == pytest.approx(np.sqrt(np.mean(np.square(skews))), rel=0.08)


def test_a_wild_shot_is_named_with_its_axis():
    a = axis_from_shots([(0.0, 0.0, 0.0), (300.0, 12.0, 0.0), (600.0, 0.0, 0.0), (900.0, 0.0, 0.0)])
    b = axis_from_direction((1500.0, 800.0, 0.0), (0.0, -1.0, 0.0))
    made = tie_in_from_axes(a, b, joints_take_mm=3.0)
    assert "wild_shot" in codes(made)
    assert "axis A" in made.findings[0].text


def test_a_mirrored_survey_gives_the_same_tie_in():
    def mirrored(p):
        return p[0], -p[1], p[2]

    a, b = axes_of(900.0, 600.0, 50.0, skew=2.0)
    one = tie_in_from_axes(a, b, joints_take_mm=3.0)
    other = tie_in_from_axes(
        axis_from_direction(mirrored(a.port), mirrored(a.along)),
        axis_from_direction(mirrored(b.port), mirrored(b.along)),
        joints_take_mm=3.0,
    )
    assert (one.leg_a_mm, one.leg_b_mm, one.skew_mm) == pytest.approx((other.leg_a_mm, other.leg_b_mm, other.skew_mm))


def test_more_shots_on_a_line_agree_with_singular_values():
    rng = np.random.default_rng(2)
    shots = np.outer(np.linspace(0, 1500, 6), [0.6, 0.64, 0.48]) + rng.normal(0, 3, (6, 3))
    along = np.linalg.svd(shots - shots.mean(axis=0))[2][0]
    along = along if along @ [0.6, 0.64, 0.48] > 0 else -along
    axis = axis_from_shots([tuple(shot) for shot in shots])
    assert axis.along == pytest.approx(tuple(along), abs=1e-10)
    assert sum(off**2 for off in axis.residuals_mm) == pytest.approx(
        (np.linalg.svd(shots - shots.mean(axis=0))[1][1:] ** 2).sum(), rel=1e-9
    )


@pytest.mark.parametrize(
    "shots",
    [[(0.0, 0.0, 0.0)], [(0.0, 0.0, 0.0), (0.0, 0.0, 1.0)], [(0.0, 0.0, 0.0), (float("nan"), 0.0, 900.0)]],
)
def test_shots_that_give_no_axis_are_refused_in_words(shots):
    with pytest.raises(SurveyError, match=r"[Ss]hot"):
        axis_from_shots(shots)


def test_a_direction_of_no_length_is_refused():
    with pytest.raises(SurveyError, match="direction"):
        axis_from_direction((0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
