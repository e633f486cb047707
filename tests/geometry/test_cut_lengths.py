"""Many cut lengths at once."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.build import build
from geometry.cut_lengths import cut_lengths_mm
from tests.geometry.tie_ins import GROOVED, IN, tie_in


@given(st.floats(30.0, 90.0), st.floats(30.0, 90.0), st.floats(60.0, 179.0))
def test_they_are_what_build_makes(a, b, included):
    answer = build(tie_in(a, b, included, end_a=GROOVED))
    [(cut_a, cut_b)] = cut_lengths_mm(
        [(a * IN, b * IN, included)], bend_radius_mm=6 * IN, takes_a_mm=0.09375 * IN, takes_b_mm=0.09375 * IN
    )
    assert (answer.pieces[0].cut_length_mm, answer.pieces[-1].cut_length_mm) == pytest.approx((cut_a, cut_b), rel=1e-12)


def test_no_readings_give_no_cuts():
    assert cut_lengths_mm([], bend_radius_mm=152.4, takes_a_mm=0.0, takes_b_mm=0.0) == []
