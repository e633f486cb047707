"""Traps that a shop's numbers fall into: one test and more for each of the 22, named after it.

Trap and where its test stands (the rest of each is in the tests of its own module):

     1  sign of burn and set point, one burn for both sides, old readings that move      here
     2  included and turn exchanged                                                      here
     3  a turn of 90.0000001 refused from a 90                                           here
     4  a whole 45 as R tan 22.5, two fittings set back by the formula                   here
     5  count of gaps                                                                    here
     6  a miter's minimum on the center line                                             here
     7  sign of field trim and of coupling deductions                                    here
     8  short legs at sharp turns                                                        here
     9  a saddle's zero at the smallest line                                             here
    10  set-on with the torch held square                                                here
    11  girth of the outside, and of the sheet                                           here
    12  equal pipes                                                                      test_traps_in_space
    13  branch over 90, offset left or right                                             test_traps_in_space
    14  crossing behind a port, parallel axes                                            test_traps_in_space
    15  skew against its own sigma                                                       test_traps_in_space
    16  the mirror of two bends                                                          test_traps_in_space
    17  misfit axes as if independent, degrees without pi / 180                          test_traps_in_space
    18  first order at one degree                                                        test_traps_in_space
    19  lengths that read in two ways                                                    test_traps_in_space
    20  round once, at the edge                                                          test_traps_in_space
    21  pieces rounded one by one                                                        test_traps_in_space
    22  a check dimension of the rounded pieces                                          test_traps_in_space
"""

from dataclasses import replace
from math import pi

import pytest

from geometry.bends import BendChoice, make_up
from geometry.build import ChainRequest, build, build_chain
from geometry.centerline import CenterlineRequest
from geometry.ends import EndChoice
from geometry.jig import SideReading, legs_of
from geometry.tables import elbow, pipe
from geometry.wraps import Layout, Saddle, saddle_wrap
from geometry.wraps.saddle import distance_function
from tests.geometry.tie_ins import BEVELED, GROOVED, IN, codes, tie_in, turn


def chain(line, bend, *, gap):
    """Return a spool of NPS 4 on a center line, every bend made alike, the gap in inches."""
    bends = (bend,) * len(line.turns_deg)
    return ChainRequest(
        pipe=pipe("4", "40"), line=line, bends=bends, end_a=BEVELED, end_b=BEVELED, root_gap_mm=gap * IN
    )


def saddle(*, main=12.75, branch=4.5, included=45.0, offset=0.0, edge):
    """Return a branch set on a main, all in inches; the branch's wall is that of NPS 4 (4.026 in inside)."""
    return Saddle(
        main_od_mm=main * IN,
        main_wall_mm=0.375 * IN,
        branch_od_mm=branch * IN,
        branch_wall_mm=0.237 * IN,
        included_deg=included,
        offset_mm=offset * IN,
        edge=edge,
    )


def test_trap_01_burn_is_taken_off_and_set_point_put_on_side_by_side():
    a = SideReading(reading_mm=41 * IN, burn_mm=4 * IN, set_point_mm=3.5 * IN)
    b = SideReading(reading_mm=28 * IN, burn_mm=1 * IN, set_point_mm=4 * IN)
    legs = legs_of(a, b, included_deg=142.0)
    assert (legs.leg_a_mm, legs.leg_b_mm) == pytest.approx((40.5 * IN, 31 * IN))


def test_trap_01_a_reading_keeps_its_own_burn_when_the_setting_changes_later():
    old = SideReading(reading_mm=40 * IN, burn_mm=1 * IN, set_point_mm=1 * IN)
    assert replace(old, burn_mm=4 * IN).center_to_end_mm != old.center_to_end_mm
    assert old.center_to_end_mm == 40 * IN


def test_trap_02_included_and_turn_are_not_exchanged_away_from_90():
    at_100, at_80 = build(tie_in(included=100.0)), build(tie_in(included=80.0))
    assert at_100.turn_deg == 80.0
    assert at_100.take_off_mm / IN == pytest.approx(6 * 0.8390996, abs=1e-6)
    assert at_80.take_off_mm / IN == pytest.approx(6 * 1.1917536, abs=1e-6)


def test_trap_03_a_turn_of_90_from_the_arithmetic_of_a_reading_comes_from_a_90():
    made = make_up("trimmed_elbow").make(turn(180.0 - 89.9999999))
    assert made.parts[0].made_from == "LR90"
    assert build(tie_in(included=89.9999999, bend=BendChoice(source="90"))).buildable


def test_trap_03_a_turn_of_90_and_a_quarter_is_refused_from_a_90():
    answer = build(tie_in(included=89.75, bend=BendChoice(source="90")))
    assert not answer.buildable
    refused = next(finding for finding in answer.findings if finding.level == "error")
    assert refused.code == "turn_over_90"
    assert "180 return" in refused.text


@pytest.mark.parametrize("nps", ["1", "2", "4", "22"])
def test_trap_04_a_whole_45_takes_off_what_its_table_says_and_a_trimmed_one_what_its_radius_says(nps):
    whole = make_up("whole_elbow").make(turn(45.0, BendChoice("whole_elbow"), nps=nps, schedule="STD"))
    trimmed = make_up("trimmed_elbow").make(turn(45.0, nps=nps, schedule="STD"))
    assert whole.take_off_mm == elbow(nps, "LR45").standard_mm
    assert trimmed.take_off_mm == pytest.approx(elbow(nps, "LR90").bend_radius_mm * 0.41421356, rel=1e-7)
    assert abs(whole.take_off_mm - trimmed.take_off_mm) > 0.01 * IN


def test_trap_05_each_weld_costs_each_leg_one_gap():
    tight, open_ = build(tie_in(gap=0.0)), build(tie_in(gap=0.125))
    for without, with_gap in zip(tight.pieces, open_.pieces, strict=True):
        lost = 0.0 if without.kind == "elbow" else 0.125 * IN
        assert without.cut_length_mm - with_gap.cut_length_mm == pytest.approx(lost, abs=1e-9)


def test_trap_05_a_miter_gap_costs_each_pipe_half_along_its_axis():
    miter = BendChoice("miter")
    tight, open_ = (
        build(tie_in(gap=0.0, included=90.0, bend=miter)),
        build(tie_in(gap=0.125, included=90.0, bend=miter)),
    )
    lost = tight.pieces[0].cut_length_mm - open_.pieces[0].cut_length_mm
    assert lost / IN == pytest.approx(0.0625 / 0.70710678, abs=1e-9)


def test_trap_06_the_miter_minimum_is_checked_at_the_throat():
    groover = replace(GROOVED, groover_straight_mm=4.0 * IN)
    answer = build(tie_in(5.0, 30.0, 90.0, gap=0.0, bend=BendChoice("miter"), end_a=groover))
    assert not answer.buildable
    short = next(finding for finding in answer.findings if finding.code == "leg_too_short")
    assert short.figures[0].value / IN == pytest.approx(2.75)
    assert "throat" in short.text


def test_trap_07_field_trim_lengthens_and_a_coupling_center_shortens():
    plain = EndChoice("plain", "pipe_end")
    bare = build(tie_in(end_b=plain)).pieces[-1].cut_length_mm
    trimmed = build(tie_in(end_b=replace(plain, field_trim_mm=2 * IN))).pieces[-1].cut_length_mm
    coupled = build(tie_in(end_b=EndChoice("grooved", "coupling_center", coupling="rigid"))).pieces[-1].cut_length_mm
    assert trimmed - bare == pytest.approx(2 * IN)
    assert bare - coupled == pytest.approx(0.0625 * IN)


def test_trap_08_short_legs_at_a_sharp_turn_are_refused_with_what_would_do():
    answer = build(tie_in(14.0, 12.0, 60.0))
    assert not answer.buildable
    short = next(finding for finding in answer.findings if finding.code == "leg_too_short")
    assert short.text.startswith('Leg B leaves 1-1/2" of pipe')
    assert "trimmed short radius elbow" in short.text
    assert not answer.pieces


def test_trap_08_what_would_do_really_does():
    answer = build(tie_in(14.0, 12.0, 60.0, bend=BendChoice("trimmed_elbow", "short")))
    assert answer.buildable


def test_trap_04_two_whole_45s_are_set_back_by_their_table_and_not_by_the_formula():
    """Two fittings in a plane: PI to the first center is m sin d2 / sin d, m from the table's center-to-ends."""
    middle = 2 * 2.5 + 3.0 + 2 * 0.125  # NPS 4: two whole 45s of 2.5 in, a pup of 3 in and its two gaps
    line = CenterlineRequest((30 * IN, middle * IN, 30 * IN), (45.0, 45.0), (0.0,))
    answer = build_chain(chain(line, BendChoice("whole_elbow"), gap=0.125))
    pup = next(piece for piece in answer.pieces if piece.mark == "P1")
    assert pup.cut_length_mm / IN == pytest.approx(3.0, abs=1e-9)


def test_trap_05_a_pup_has_two_gaps_of_its_own_and_fitting_to_fitting_one():
    take_off = 6.0 * 0.41421356237309503
    with_pup = CenterlineRequest((30 * IN, (2 * take_off + 3.25) * IN, 30 * IN), (45.0, 45.0), (180.0,))
    without = CenterlineRequest((30 * IN, (2 * take_off + 0.125) * IN, 30 * IN), (45.0, 45.0), (180.0,))
    pup = build_chain(chain(with_pup, BendChoice(), gap=0.125))
    bare = build_chain(chain(without, BendChoice(), gap=0.125))
    assert [(piece.mark, round(piece.cut_length_mm / IN, 6)) for piece in pup.pieces if piece.mark == "P1"] == [
        ("P1", 3.0)
    ]
    assert [piece.mark for piece in bare.pieces] == ["A", "E1", "E2", "B"]
    assert len(bare.joints) == 3


def test_trap_09_the_longest_tip_lies_between_two_lines():
    """8 on 10 (radii 4.3125 and 5.375) at 52.5 degrees, offset 1: the lowest of 16 lines is 0.17 in off the tip."""
    wrap = saddle_wrap(saddle(main=10.75, branch=8.625, included=52.5, offset=1.0, edge="outside"), Layout(lines=16))
    assert min(line.ordinate_mm for line in wrap.ordinates) / IN == pytest.approx(0.169, abs=0.001)
    assert wrap.low_point.around_deg % 22.5 != 0.0


def test_trap_10_set_on_with_the_torch_square_no_single_radius_is_right():
    """NPS 4 on a 12.75 run at 45: the outside curve leaves the heel 0.24 in into the run, the inside one the crotch."""
    heel, crotch = 0.0, pi
    square = distance_function(saddle(edge="torch square"))
    outside, inside = distance_function(saddle(edge="outside")), distance_function(saddle(edge="inside"))
    assert (inside(heel) - outside(heel)) / IN == pytest.approx(0.237, abs=0.005)
    assert (outside(crotch) - inside(crotch)) / IN == pytest.approx(0.237, abs=0.005)
    assert square(heel) == pytest.approx(inside(heel))
    assert square(crotch) == pytest.approx(outside(crotch))
    assert "Hold the torch square to the pipe" in " ".join(saddle_wrap(saddle(edge="torch square")).directions)


def test_trap_11_the_templates_girth_is_that_of_the_outside_and_of_its_sheet():
    wrap = saddle_wrap(saddle(edge="inside"), Layout(sheet_mm=0.1))
    assert wrap.girth_mm == pytest.approx(pi * (4.5 * IN + 0.1))


def test_180_included_is_straight_pipe_and_no_elbow_of_0_degrees():
    answer = build(tie_in(included=180.0))
    assert [piece.kind for piece in answer.pieces] == ["pipe"]
    assert answer.joints == ()
    assert answer.pieces[0].cut_length_mm == pytest.approx((40.3125 + 27.875) * IN)


def test_a_turn_of_120_passes_the_jigs_own_limit():
    side = SideReading(reading_mm=30 * IN, burn_mm=0.0, set_point_mm=0.0)
    assert legs_of(side, side, included_deg=180.0 - 120.0000000001).findings == ()
    assert codes(legs_of(side, side, included_deg=59.9).findings) == ["included_outside_jig"]
