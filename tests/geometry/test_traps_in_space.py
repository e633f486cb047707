"""Traps 12 to 22: equal pipes, surveys, two bends, misfit, reading and rounding. The table stands in test_traps."""

from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest

from geometry.allowances import JointAllowance
from geometry.axes import axis_from_direction, axis_from_shots
from geometry.build import build
from geometry.centerline import CenterlineRequest, Frame, lay_out
from geometry.checks import CheckInput, MeasuringSigmas
from geometry.fit import BuildSigmas, FitInput, fit_probability, fit_report
from geometry.lengths import SIXTEENTH, LengthError, format_length, parse_length, round_to, round_together
from geometry.survey import tie_in_from_axes
from geometry.two_bend import Port, two_bends_with_turns
from geometry.wraps import Layout, Saddle, WrapError, hole_layout, saddle_wrap
from tests.geometry import test_traps
from tests.geometry.simulated_builds import build as build_many
from tests.geometry.simulated_builds import readings_errors
from tests.geometry.tie_ins import IN, tie_in

TRAPS = range(1, 23)
NOTHING = BuildSigmas(jig_play_mm=0.0, cut_mm=0.0, fit_up_mm=0.0, fit_up_turn_deg=0.0, fitting_turn_deg=0.0)


def test_each_of_the_22_traps_has_a_test_named_after_it():
    names = [*vars(test_traps), *globals()]
    assert [trap for trap in TRAPS if not any(name.startswith(f"test_trap_{trap:02}_") for name in names)] == []


def equal(branch_od=168.275, **changed):
    """Return a branch on a main of the same size, its wall thin."""
    return Saddle(
        **{
            "main_od_mm": 168.275,
            "main_wall_mm": 7.112,
            "branch_od_mm": branch_od,
            "branch_wall_mm": 7.112,
            "included_deg": 60.0,
            "edge": "outside",
            **changed,
        }
    )


@pytest.mark.parametrize("wider", [1.0, 1.0 - 1e-15, 1.0 + 2e-10])
def test_trap_12_equal_pipes_are_laid_out_though_their_sides_just_touch(wider):
    wrap, hole = saddle_wrap(equal(168.275 * wider), Layout(lines=8)), hole_layout(equal(168.275 * wider))
    assert wrap.ordinates[2].ordinate_mm == pytest.approx(wrap.ordinates[6].ordinate_mm, abs=1e-6)
    assert hole.width_mm == pytest.approx(168.275 * pi / 2, abs=1e-2)


@pytest.mark.parametrize("offset", [0.0, 10.0])
def test_trap_12_a_branch_wider_than_its_main_by_more_than_rounding_is_refused(offset):
    with pytest.raises(WrapError, match="Make the offset smaller or the branch smaller"):
        saddle_wrap(equal(168.275 * (1.0 + 1e-8) - 2.0 * offset + (1e-6 if offset else 0.0), offset_mm=offset))


def test_trap_13_a_branch_over_90_swaps_heel_and_crotch_and_runs_the_other_way():
    leaning, back = (saddle_wrap(equal(114.3, included_deg=angle), Layout(lines=8)) for angle in (60.0, 120.0))
    assert [line.ordinate_mm for line in leaning.ordinates] == pytest.approx([o.ordinate_mm for o in back.ordinates])
    assert (leaning.clockwise, back.clockwise) == (True, False)
    along, other = (hole_layout(equal(114.3, included_deg=angle)) for angle in (60.0, 120.0))
    assert (along.toward_crotch_along_main, other.toward_crotch_along_main) == (True, False)


def test_trap_13_an_offset_left_is_the_mirror_of_one_right_and_the_edge_is_marked():
    left, right = (saddle_wrap(equal(114.3, offset_mm=offset), Layout(lines=8)) for offset in (15.0, -15.0))
    forward, backward = ([line.ordinate_mm for line in wrap.ordinates] for wrap in (left, right))
    assert forward == pytest.approx([backward[0], *reversed(backward[1:])])
    assert forward[2] != pytest.approx(backward[2], abs=1.0)
    assert left.to_edge == "main"


def test_trap_14_a_crossing_behind_a_port_stays_negative_and_is_no_single_bend():
    a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    made = tie_in_from_axes(a, axis_from_direction((-300.0, 500.0, 0.0), (0.0, -1.0, 0.0)), joints_take_mm=3.0)
    assert (made.make, made.leg_a_mm) == ("two_bends", pytest.approx(-300.0))
    assert "crosses_behind_port" in [finding.code for finding in made.findings]


def test_trap_14_axes_parallel_and_apart_ask_for_an_offset():
    a = axis_from_direction((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    made = tie_in_from_axes(a, axis_from_direction((2000.0, 300.0, 0.0), (-1.0, 0.0, 0.0)), joints_take_mm=3.0)
    assert (made.make, made.pi) == ("two_bends", None)


@pytest.mark.parametrize(("base", "sigma"), [(12.0, 0.39), (24.0, 0.23), (48.0, 0.16)])
def test_trap_15_skew_is_judged_against_its_own_sigma(base, sigma):
    """Shots good to 1/16 in, the PI 31 in away: sigma of skew 0.39, 0.23, 0.16 in on bases of 12, 24, 48 in."""
    c, s = cos(radians(60.0)), sin(radians(60.0))
    port = (31 * IN * (1 + c), 31 * IN * s, 1.9 * sigma * IN)
    a = axis_from_shots([(-base * IN, 0.0, 0.0), (0.0, 0.0, 0.0)])
    b = axis_from_shots([(port[0] + base * IN * c, port[1] + base * IN * s, port[2]), port])
    made = tie_in_from_axes(a, b, joints_take_mm=1.0)
    assert made.sigma_skew_mm / IN == pytest.approx(sigma, abs=0.006)
    assert not made.proved
    assert "skew_not_proved" in [finding.code for finding in made.findings]


def test_trap_16_the_roll_has_its_sign_and_every_two_bend_spool_is_walked_to_its_port():
    end = lay_out(CenterlineRequest((500.0, 700.0, 400.0), (45.0, 60.0), (70.0,)))
    out = end.frames[-1].along
    a, b = Port((0.0, 0.0, 0.0), Frame().along), Port(end.points[-1], (-out[0], -out[1], -out[2]))
    found = two_bends_with_turns(a, b, turn_1_deg=45.0, turn_2_deg=60.0)
    assert any(one.twist_deg == pytest.approx(70.0) for one in found)
    assert all(one.off_mm < 1e-6 for one in found)
    mirrored = two_bends_with_turns(
        a,
        Port((b.point[0], b.point[1], -b.point[2]), (b.along[0], b.along[1], -b.along[2])),
        turn_1_deg=45.0,
        turn_2_deg=60.0,
    )
    assert any(one.twist_deg == pytest.approx(-70.0) for one in mirrored)
    assert not any(one.twist_deg == pytest.approx(70.0) for one in mirrored)


def fit(leg_b, turn, protractor, joint):
    """Return a fit of 36 in by leg B at a turn, nothing but the readings being off."""
    measured = CheckInput(
        leg_a_mm=36 * IN,
        leg_b_mm=leg_b * IN,
        included_deg=180.0 - turn,
        sigmas=MeasuringSigmas(protractor_deg=protractor),
    )
    return FitInput(measured=measured, take_off_mm=63.0, allowance=joint, build=NOTHING)


@pytest.mark.parametrize("leg_b", [24.0, 60.0])
def test_trap_17_the_misfits_are_correlated_and_their_chances_are_not_multiplied(leg_b):
    joint = JointAllowance(joint="test", short_mm=3.0, long_mm=3.0, offset_mm=5.0, turn_deg=0.5, source="test")
    asked = fit(leg_b, 45.0, 0.5, joint)
    rng = np.random.default_rng(17)
    misses = build_many(asked, *readings_errors(asked.measured, 0.0, 200_000, rng), rng)
    apart = (
        (np.abs(misses.axial) <= 3.0).mean()
        * (np.abs(misses.lateral) <= 5.0).mean()
        * (np.abs(np.degrees(misses.turn)) <= 0.5).mean()
    )
    assert fit_probability(asked) == pytest.approx(misses.fits(joint).mean(), abs=0.004)
    assert fit_probability(asked) > apart + 0.02


def test_trap_17_a_sigma_in_degrees_meets_the_lever_in_radians():
    joint = JointAllowance(joint="test", short_mm=3.0, long_mm=3.0, offset_mm=5.0, turn_deg=0.5, source="test")
    asked = fit(24.0, 45.0, 0.5, joint)
    across = hypot(24 * IN * radians(0.5), asked.measured.sigmas.tape_mm * sin(radians(45.0)))
    assert fit_report(asked).sigma_lateral_mm == pytest.approx(across, rel=1e-9)


def test_trap_18_beyond_first_order_it_is_said():
    """At 1 degree and leg B 60 in the axial misfit shortens by 0.009 in on average: fine below 0.01, said beyond."""
    joint = JointAllowance(joint="test", short_mm=3.0, long_mm=3.0, offset_mm=5.0, turn_deg=0.5, source="test")
    said = [[one.code for one in fit_report(fit(60.0, 45.0, sigma, joint)).findings] for sigma in (1.0, 1.2)]
    assert ["fit_first_order" in codes for codes in said] == [False, True]


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("4-5/16", 4.3125),
        ("3-4-5/16", 40.3125),
        ("4½", 4.5),
        ("3’ 4 ⁵⁄₁₆”", 40.3125),
        ("3' 4-5/16''", 40.3125),
        ("3 ft. 4 in.", 40.0),
        ("3'\u00a04\"", 40.0),
    ],
)
def test_trap_19_every_usual_form_is_read_for_what_it_says(text, inches):
    assert parse_length(text).mm == pytest.approx(inches * IN, abs=1e-12)


@pytest.mark.parametrize("text", ["3-4", "3'-14\"", "4 17/16", "3.5' 2\"", "40,5", "3,5'", "41/2"])
def test_trap_19_what_reads_in_two_ways_is_asked_back(text):
    with pytest.raises(LengthError, match="write"):
        parse_length(text)


def test_trap_20_nearly_a_foot_is_written_as_a_foot():
    assert format_length(11.96875 * IN) == "1' 0\""
    assert format_length(round_to(11.97 * IN, SIXTEENTH)) == "1' 0\""


def test_trap_20_a_half_goes_up_on_the_exact_value():
    """1/32 in is a half of a sixteenth; as a float of mm it lies just under it."""
    assert format_length(0.79375) == '1/16"'
    assert format_length(0.7937) == '0"'


def test_trap_21_four_of_10_03_lose_nothing_together():
    rounded = round_together([10.03 * IN] * 4, SIXTEENTH)
    assert sum(rounded) / IN == pytest.approx(40.125)
    assert max(abs(length / IN - 10.03) for length in rounded) < 1 / 16


def test_trap_21_pieces_are_rounded_together():
    answer = build(tie_in(30.0 + 0.45 / 16, 30.0 + 0.45 / 16, 90.0, gap=0.0))
    rounded = [piece.rounded_cut_mm / IN for piece in answer.pieces if piece.kind == "pipe"]
    assert sorted(rounded) == pytest.approx([24.0, 24.0625])


def test_trap_22_the_check_dimension_is_of_the_exact_reading_and_the_rounded_one_stands_beside_it():
    answer = build(tie_in(30.03, 24.03, 135.0))
    assert answer.check_mm == pytest.approx(build(tie_in(30.03, 24.03, 135.0, gap=0.0)).check_mm, abs=1e-9)
    assert answer.check_mm != answer.rounded_check_mm
    assert abs(answer.check_mm - answer.rounded_check_mm) < IN / 8
