"""A spool laid end to end from its own pieces ends where the reading says, for every make-up."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.bends import BendChoice
from geometry.build import ChainRequest, build, build_chain
from geometry.centerline import CenterlineRequest
from geometry.ends import EndChoice
from geometry.tables import elbow, pipe
from tests.geometry.laid_end_to_end import laid, turning_of, wanted
from tests.geometry.tie_ins import BEVELED, GROOVED, IN, MAKE_UPS, tie_in

MAKE_UP_NAMES = [f"{bend.kind} {bend.radius if 'elbow' in bend.kind else bend.welds}" for bend in MAKE_UPS]
LEG = st.floats(60.0, 160.0)
INCLUDED = st.floats(92.0, 176.0)


def assert_same_place(found, right):
    """Compare place and way to 1e-9 of the spool's size."""
    size = max(np.linalg.norm(right[0]), 1.0)
    assert np.abs(found[0] - right[0]).max() <= 1e-9 * size
    assert np.abs(found[1] - right[1]).max() <= 1e-9


@pytest.mark.parametrize("bend", MAKE_UPS, ids=MAKE_UP_NAMES)
@given(a=LEG, b=LEG, included=INCLUDED, gap=st.floats(0.0, 0.125))
@settings(max_examples=25, deadline=None)
def test_every_make_up_ends_where_the_reading_says(bend, a, b, included, gap):
    answer = build(tie_in(a, b, included, bend=bend, gap=gap))
    assume(answer.buildable)
    assert_same_place(laid(answer, turning=turning_of([bend])), wanted([a * IN, b * IN], [180.0 - included]))


@pytest.mark.parametrize("bend", MAKE_UPS, ids=MAKE_UP_NAMES)
def test_every_make_up_is_proven_at_142_degrees(bend):
    answer = build(tie_in(84.0, 96.0, 142.0, bend=bend))
    assert answer.buildable
    assert_same_place(laid(answer, turning=turning_of([bend])), wanted([84 * IN, 96 * IN], [38.0]))


@pytest.mark.parametrize(("included", "kind"), [(135.0, "LR45"), (90.0, "LR90")])
@pytest.mark.parametrize("nps", ["1", "2", "4", "12", "22"])
def test_whole_elbows_end_where_the_reading_says(included, kind, nps):
    answer = build(tie_in(96.0, 84.0, included, nps=nps, schedule="STD", bend=BendChoice("whole_elbow")))
    assert answer.take_off_mm == elbow(nps, kind).standard_mm
    assert_same_place(laid(answer, turning=[1]), wanted([96 * IN, 84 * IN], [180.0 - included]))


@pytest.mark.parametrize("radius", ["long", "short"])
@given(a=LEG, b=LEG, included=st.floats(60.0, 89.999))
@settings(max_examples=25, deadline=None)
def test_an_elbow_from_a_180_return_ends_where_the_reading_says(radius, a, b, included):
    answer = build(tie_in(a, b, included, bend=BendChoice("trimmed_elbow", radius)))
    assert answer.pieces[1].made_from.endswith("180")
    assert_same_place(laid(answer, turning=[1]), wanted([a * IN, b * IN], [180.0 - included]))


ENDS = (
    (EndChoice("plain", "pipe_end"), 0.0),
    (EndChoice("grooved", "coupling_center", coupling="flexible"), 0.0625),
    (EndChoice("flanged_slip_on", "flange_face"), 0.237 + 0.125),
    (EndChoice("flanged_weld_neck", "flange_face"), 3.0 + 0.09375),
    (EndChoice("flanged_weld_neck", "flange_face", root_gap_mm=0.125 * IN), 3.0 + 0.125),
    (EndChoice("beveled", "pipe_end", field_trim_mm=2.0 * IN), -2.0),
)


@pytest.mark.parametrize(("end_a", "takes_a"), ENDS, ids=lambda value: getattr(value, "prep", ""))
@pytest.mark.parametrize(("end_b", "takes_b"), ENDS, ids=lambda value: getattr(value, "prep", ""))
def test_allowances_bring_the_references_where_the_reading_says(end_a, takes_a, end_b, takes_b):
    answer = build(tie_in(end_a=end_a, end_b=end_b))
    placed = laid(answer, turning=[1], before_mm=takes_a * IN, after_mm=takes_b * IN)
    assert_same_place(placed, wanted([40.3125 * IN, 27.875 * IN], [38.0]))


def chain(legs, turns, twists, bends, gap=0.09375):
    """Return a whole spool of NPS 4, legs and gap in inches."""
    return ChainRequest(
        pipe=pipe("4", "40"),
        line=CenterlineRequest(tuple(leg * IN for leg in legs), turns, twists),
        bends=bends,
        end_a=BEVELED,
        end_b=GROOVED,
        root_gap_mm=gap * IN,
    )


@pytest.mark.parametrize("first", MAKE_UPS, ids=MAKE_UP_NAMES)
@pytest.mark.parametrize("second", MAKE_UPS, ids=MAKE_UP_NAMES)
def test_two_bends_in_space_end_where_the_center_line_does(first, second):
    legs, turns, twists = (60.0, 84.0, 72.0), (38.0, 52.5), (67.0,)
    answer = build_chain(chain(legs, turns, twists, (first, second)))
    assert answer.buildable
    right = wanted([leg * IN for leg in legs], turns, twists)
    assert_same_place(laid(answer, turning=turning_of([first, second])), right)


@given(
    legs=st.tuples(LEG, LEG, LEG, LEG),
    turns=st.tuples(*[st.floats(5.0, 85.0)] * 3),
    twists=st.tuples(*[st.floats(-180.0, 180.0)] * 2),
)
@settings(max_examples=40, deadline=None)
def test_three_bends_in_space_end_where_the_center_line_does(legs, turns, twists):
    bends = (BendChoice(), BendChoice("miter", welds=2), BendChoice("trimmed_elbow", "short"))
    answer = build_chain(chain(legs, turns, twists, bends))
    assume(answer.buildable)
    right = wanted([leg * IN for leg in legs], turns, twists)
    assert_same_place(laid(answer, turning=turning_of(bends)), right)


def test_fitting_to_fitting_is_one_gap():
    take_off = 6.0 * np.tan(np.radians(22.5))
    middle = 2.0 * take_off + 0.125
    answer = build_chain(chain((30.0, middle, 30.0), (45.0, 45.0), (180.0,), (BendChoice(), BendChoice()), gap=0.125))
    assert [piece.mark for piece in answer.pieces] == ["A", "E1", "E2", "B"]
    assert_same_place(laid(answer, turning=[1, 1]), wanted([30 * IN, middle * IN, 30 * IN], (45.0, 45.0), (180.0,)))
    assert "fitting_to_fitting" in [finding.code for finding in answer.findings]
