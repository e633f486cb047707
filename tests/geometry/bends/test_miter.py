"""Miters of one to five welds."""

import pytest

from geometry.bends import BendChoice, make_up
from geometry.bends.miter import code_end_piece_mm, code_radius_mm
from tests.geometry.tie_ins import IN, codes, turn

MITER = make_up("miter")


def miter(turn_deg, welds=1, radius=None, **more):
    """Return a miter made up, radius in inches."""
    radius_mm = None if radius is None else radius * IN
    return MITER.make(turn(turn_deg, BendChoice("miter", welds=welds, bend_radius_mm=radius_mm), **more))


def test_one_weld_takes_nothing_off_and_is_cut_half_the_turn():
    made = miter(30.0)
    assert (made.take_off_mm, made.cut_angle_deg, made.weld_turn_deg, made.parts) == (
        0.0,
        pytest.approx(15.0),
        30.0,
        (),
    )


@pytest.mark.parametrize("welds", [2, 3, 4, 5])
def test_the_welds_share_the_turn(welds):
    made = miter(90.0, welds, radius=20.0) if welds > 1 else miter(40.0)
    assert made.welds * made.weld_turn_deg == pytest.approx(90.0)
    assert len(made.parts) == welds - 1


def test_middle_pieces_are_shorter_at_the_throat_than_at_the_heel_by_two_cut_backs():
    marks = {mark.name: mark.value_mm for mark in miter(90.0, 3, radius=20.0).parts[0].marks}
    assert marks["heel"] - marks["throat"] == pytest.approx(2.0 * marks["cut_back"])


@pytest.mark.parametrize("welds", [0, 6, -1])
def test_other_than_1_to_5_welds_is_refused(welds):
    assert codes(miter(60.0, welds).findings) == ["miter_welds"]


def test_a_single_cut_over_22_and_a_half_needs_the_engineer():
    assert "miter_needs_engineer" in codes(miter(50.0).findings)
    assert "miter_needs_engineer" not in codes(miter(45.0).findings)


def test_a_cut_over_45_is_refused_with_the_welds_that_do_it():
    made = miter(120.0)
    assert codes(made.findings) == ["miter_cut_too_steep"]
    assert "take 3 welds" in made.findings[0].text


def test_several_welds_stop_at_22_and_a_half():
    assert codes(miter(90.5, 2, radius=20.0).findings) == ["miter_cut_too_steep"]
    assert miter(90.0, 2, radius=20.0).welds == 2


def test_the_line_class_must_allow_miters_until_somebody_says_so():
    assert miter(30.0).findings[0].level == "warning"
    allowed = MITER.make(turn(30.0, BendChoice("miter", miters_allowed=True)))
    assert allowed.findings[0].level == "caution"


def test_a_radius_under_the_codes_is_named_with_the_least():
    made = miter(90.0, 3)
    least_mm = code_radius_mm(od_mm=114.3, wall_mm=0.237 * IN, cut_deg=15.0)
    assert ("miter_radius_short" in codes(made.findings)) == (least_mm > 6.0 * IN)
    assert "miter_radius_short" in codes(miter(90.0, 3, radius=5.0).findings)


def test_a_radius_that_leaves_no_throat_is_refused():
    assert codes(miter(60.0, 3, radius=2.0).findings) == ["miter_no_throat"]


@pytest.mark.parametrize(("wall_in", "a_in"), [(0.237, 1.0), (0.5, 1.0), (0.75, 1.5), (0.9, 0.6 + 1.17)])
def test_the_codes_radius_grows_with_the_wall(wall_in, a_in):
    least = code_radius_mm(od_mm=10 * IN, wall_mm=wall_in * IN, cut_deg=22.5) / IN
    assert least == pytest.approx(a_in / 0.41421356 + 5.0, rel=1e-6)


def test_the_codes_end_piece_is_the_larger_of_both_rules():
    thin = code_end_piece_mm(od_mm=114.3, wall_mm=6.02, cut_deg=22.5, radius_mm=60.0)
    wide = code_end_piece_mm(od_mm=114.3, wall_mm=6.02, cut_deg=22.5, radius_mm=600.0)
    assert thin == pytest.approx(2.5 * (54.14 * 6.02) ** 0.5)
    assert wide == pytest.approx(0.41421356 * (600.0 - 54.14), rel=1e-6)
