"""Rounding to a tape's marks, one length at a time and a spool's pieces together."""

from fractions import Fraction
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.lengths import (
    GRADUATIONS,
    MILLIMETER,
    SIXTEENTH,
    THIRTY_SECOND,
    LengthError,
    format_length,
    graduation,
    round_to,
    round_together,
)

pieces = st.lists(st.floats(0, 20000, allow_nan=False), min_size=1, max_size=9)
marks = st.sampled_from(GRADUATIONS)


def test_the_graduations_are_exact_fractions_of_a_millimeter():
    assert SIXTEENTH.step_mm == Fraction(254, 10) / 16
    assert THIRTY_SECOND.step_mm == Fraction(254, 10) / 32
    assert MILLIMETER.step_mm == 1


def test_an_unknown_graduation_names_those_there_are():
    with pytest.raises(LengthError, match="1/16, 1/32 or 1mm"):
        graduation("1/10")


@pytest.mark.parametrize("halves", [1, 3, 33, 511, 22273])
def test_a_half_of_a_graduation_goes_up_though_its_float_may_lie_under_it(halves):
    exactly_half_mm = float(halves * SIXTEENTH.step_mm / 2)
    assert round_to(exactly_half_mm, SIXTEENTH) == float((halves + 1) // 2 * SIXTEENTH.step_mm)


def test_what_is_really_under_a_half_goes_down():
    assert round_to(0.79375 - 1e-6, SIXTEENTH) == 0.0
    assert round_to(0.79375 + 1e-6, SIXTEENTH) == 1.5875


def test_an_offset_and_its_mirror_image_round_alike():
    assert round_to(-0.79375, SIXTEENTH) == -1.5875


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_what_is_no_number_is_refused(bad):
    with pytest.raises(LengthError, match="nan and infinity"):
        round_to(bad, SIXTEENTH)


@given(st.floats(-20000, 20000), marks)
def test_rounding_moves_at_most_half_a_graduation_and_only_once(length, step):
    once = round_to(length, step)
    assert abs(once - length) <= step.mm / 2 + 1e-9
    assert round_to(once, step) == once


def test_four_pieces_of_10_03_inches_keep_their_sum():
    together = round_together([10.03 * 25.4] * 4, SIXTEENTH)
    assert sum(together) == pytest.approx(40.125 * 25.4, abs=1e-9)
    assert [format_length(mm) for mm in together] == ['10-1/16"', '10-1/16"', '10"', '10"']


@given(pieces, marks)
def test_rounded_together_the_sum_is_within_half_a_graduation(lengths, step):
    exact = sum((Fraction(length) for length in lengths), Fraction(0))
    rounded = sum((Fraction(length) for length in round_together(lengths, step)), Fraction(0))
    assert abs(rounded - exact) <= step.step_mm / 2 + Fraction(1, 10**8)


@given(pieces, marks)
def test_rounded_together_each_piece_is_within_one_graduation(lengths, step):
    for length, rounded in zip(lengths, round_together(lengths, step), strict=True):
        assert abs(rounded - length) < step.mm + 1e-9


@given(pieces, marks)
def test_pieces_already_on_the_marks_stay_there(lengths, step):
    on_marks = [round_to(length, step) for length in lengths]
    assert list(round_together(on_marks, step)) == on_marks


def test_a_negative_piece_is_refused():
    with pytest.raises(LengthError, match="shorter than nothing"):
        round_together([100.0, -1.0], SIXTEENTH)


def test_no_pieces_round_to_no_pieces():
    assert round_together([], SIXTEENTH) == ()
