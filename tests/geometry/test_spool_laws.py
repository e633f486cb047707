"""Laws that hold for every spool: swap, mirror, scale, sum, monotone take-off."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.build import build, build_chain
from geometry.centerline import CenterlineRequest, distance_mm, lay_out
from geometry.lengths import MILLIMETER, SIXTEENTH, THIRTY_SECOND
from geometry.overall import overall
from geometry.tables import pipe
from tests.geometry.test_forward_proof import chain
from tests.geometry.tie_ins import BEVELED, GROOVED, IN, MAKE_UPS, tie_in

LEG = st.floats(40.0, 160.0)
INCLUDED = st.floats(92.0, 176.0)


@pytest.mark.parametrize("bend", MAKE_UPS)
@given(a=LEG, b=LEG, included=INCLUDED)
@settings(max_examples=20, deadline=None)
def test_swapping_the_ends_swaps_the_answer(bend, a, b, included):
    there = build(tie_in(a, b, included, bend=bend, end_a=GROOVED, end_b=BEVELED))
    back = build(tie_in(b, a, included, bend=bend, end_a=BEVELED, end_b=GROOVED))
    assert there.buildable == back.buildable
    lengths = [piece.cut_length_mm for piece in there.pieces]
    assert lengths == pytest.approx([piece.cut_length_mm for piece in reversed(back.pieces)], rel=1e-12)
    assert there.check_mm == pytest.approx(back.check_mm, rel=1e-12)


@given(legs=st.tuples(LEG, LEG, LEG), turns=st.tuples(st.floats(5, 85), st.floats(5, 85)), twist=st.floats(1, 179))
@settings(max_examples=30, deadline=None)
def test_mirror_spools_differ_only_in_the_sign_of_the_twist(legs, turns, twist):
    left = build_chain(chain(legs, turns, (twist,), MAKE_UPS[:2]))
    right = build_chain(chain(legs, turns, (-twist,), MAKE_UPS[:2]))
    assume(left.buildable)
    assert [piece.cut_length_mm for piece in left.pieces] == [piece.cut_length_mm for piece in right.pieces]
    for ours, theirs in zip(overall(left, pipe("4", "40")).points, overall(right, pipe("4", "40")).points, strict=True):
        mirrored = (theirs.point[0], theirs.point[1], -theirs.point[2])
        assert distance_mm(ours.point, mirrored) <= 1e-9 * sum(legs) * IN


@given(turns=st.tuples(st.floats(61.0, 179.0), st.floats(61.0, 179.0)))
def test_a_sharper_turn_takes_off_more(turns):
    gentle, sharp = max(turns), min(turns)
    assume(gentle - sharp > 1e-6)
    for bend in MAKE_UPS:
        if bend.welds > 1 or bend.kind == "bent_pipe":
            continue
        lesser = build(tie_in(400.0, 400.0, gentle, bend=bend))
        more = build(tie_in(400.0, 400.0, sharp, bend=bend))
        if bend.kind == "trimmed_elbow":
            assert lesser.take_off_mm < more.take_off_mm


@pytest.mark.parametrize("graduation", [SIXTEENTH, THIRTY_SECOND, MILLIMETER])
@pytest.mark.parametrize("bend", MAKE_UPS)
@given(a=LEG, b=LEG, included=INCLUDED)
@settings(max_examples=10, deadline=None)
def test_rounded_pieces_drift_by_half_a_graduation_at_most(graduation, bend, a, b, included):
    answer = build(tie_in(a, b, included, bend=bend, graduation=graduation))
    cut = [piece for piece in answer.pieces if piece.kind != "elbow"]
    drift = sum(piece.rounded_cut_mm for piece in cut) - sum(piece.cut_length_mm for piece in cut)
    assert abs(drift) <= graduation.mm / 2 + 1e-6
    assert all(abs(piece.rounded_cut_mm - piece.cut_length_mm) <= graduation.mm + 1e-6 for piece in cut)


@given(a=LEG, b=LEG, included=st.floats(60.0, 179.0))
@settings(deadline=None)
def test_the_check_dimension_is_the_closing_where_both_ends_are_pipe_ends(a, b, included):
    answer = build(tie_in(a, b, included))
    assume(answer.buildable)
    assert answer.check_mm == answer.closing_mm
    points = lay_out(CenterlineRequest((a * IN, b * IN), (180.0 - included,))).points
    assert distance_mm(points[0], points[-1]) == pytest.approx(answer.check_mm, rel=1e-9)


@given(a=LEG, b=LEG, included=INCLUDED)
@settings(max_examples=30, deadline=None)
def test_the_walk_ends_at_the_check_dimension(a, b, included):
    answer = build(tie_in(a, b, included, end_a=GROOVED))
    end = overall(answer, pipe("4", "40")).points[-1]
    assert distance_mm((0.0, 0.0, 0.0), end.point) == pytest.approx(answer.check_mm, rel=1e-9)
