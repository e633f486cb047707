"""The wraps of a spool's own pieces."""

import pytest

from geometry.bends import BendChoice
from geometry.build import build, build_chain
from geometry.ends import EndChoice, OnMain
from geometry.piece_wraps import piece_wraps
from tests.geometry.test_forward_proof import chain
from tests.geometry.tie_ins import IN, tie_in


def wraps(request):
    """Return the wraps of a tie-in."""
    return piece_wraps(build(request), request)


def test_a_trimmed_elbow_needs_trim_marks_and_square_pipe_nothing():
    [trim] = wraps(tie_in())
    assert (trim.mark, trim.at) == ("E", "weld 2")
    assert trim.trim.left_over_deg == pytest.approx(90 - 38 - 3.175 / 152.4 * 57.29577951)


def test_a_whole_elbow_needs_none():
    assert wraps(tie_in(included=135.0, bend=BendChoice("whole_elbow"))) == ()


def test_both_legs_of_a_single_miter_are_wrapped_at_the_weld():
    both = wraps(tie_in(included=150.0, bend=BendChoice("miter")))
    assert [(one.mark, one.at, one.wrap.kind) for one in both] == [
        ("A", "weld 1", "miter end"),
        ("B", "weld 1", "miter end"),
    ]


def test_a_middle_pieces_wrap_is_as_long_as_the_piece_with_its_gaps_off():
    request = tie_in(60.0, 60.0, 90.0, bend=BendChoice("miter", welds=2, bend_radius_mm=20 * IN), gap=0.125)
    answer = build(request)
    middle = next(one for one in piece_wraps(answer, request) if one.mark == "M1")
    throat = next(mark.value_mm for mark in answer.pieces[1].marks if mark.name == "throat")
    heights = [line.ordinate_mm for line in middle.wrap.ordinates]
    assert 2 * min(heights) == pytest.approx(throat, rel=1e-9)
    assert heights[0] + min(heights) == pytest.approx(answer.pieces[1].cut_length_mm, rel=1e-9)


def test_a_pipe_between_two_rolled_miters_is_wrapped_end_by_end():
    request = chain((40.0, 40.0, 40.0), (30.0, 30.0), (90.0,), (BendChoice("miter"), BendChoice("miter")))
    ends = [(one.mark, one.at) for one in piece_wraps(build_chain(request), request)]
    assert ends == [("A", "weld 1"), ("P1", "weld 1"), ("P1", "weld 2"), ("B", "weld 2")]


def test_a_saddle_end_is_wrapped_and_its_hole_laid_out():
    on_main = OnMain(od_mm=323.85, wall_mm=9.525, included_deg=60.0)
    saddled = EndChoice("saddle", "saddle_wall", on_main=on_main)
    one = wraps(tie_in(included=135.0, bend=BendChoice("whole_elbow"), end_b=saddled))[-1]
    assert (one.mark, one.at, one.wrap.kind) == ("B", "end B", "saddle")
    assert one.hole.length_mm > 0


def test_a_spool_that_cannot_be_built_has_no_wraps():
    assert wraps(tie_in(a=1.0)) == ()
