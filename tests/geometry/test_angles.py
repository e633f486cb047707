"""Included and turn: reading, exchanging and saying them."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.angles import AngleError, included_of, parse_angle, say_turn, turn_of

ACCEPTED = {
    "142": 142.0,
    "142.5": 142.5,
    "142 1/2": 142.5,
    "142-1/2": 142.5,
    "142½": 142.5,
    "142 ½": 142.5,
    "142¼°": 142.25,
    "142°": 142.0,
    "142 °": 142.0,
    "142º": 142.0,
    "142 deg": 142.0,
    "142 deg.": 142.0,
    "142 Degrees": 142.0,
    "  142  ": 142.0,
    "142\u00a0°": 142.0,
    "142° 30'": 142.5,
    "142°30′": 142.5,
    "142 deg 30 min": 142.5,
    "142° 30' 36\"": 142.51,
    "0": 0.0,
    "180": 180.0,
}
REFUSED = (
    "",
    " ",
    "142,5",
    "142.",
    ".5",
    "-38",
    "+38",
    "142 3/2",
    "142 1/7",
    "142 1/0",
    "1421/2",
    "14 2",
    "142-143",
    "181",
    "360",
    "180.0001",
    "180° 30'",
    "142° 60'",
    "142° 5.5'",
    "142%",
    "142 rad",
    "2.478 rad",
    "nan",
    "inf",
    "1e2",
    "1_42",
    "١٤٢",
    "１４２",
    "142²",
    "sharp",
    "1" * 31,
)


@pytest.mark.parametrize(("typed", "degrees"), ACCEPTED.items())
def test_usual_ways_to_write_degrees_are_read(typed, degrees):
    assert parse_angle(typed) == pytest.approx(degrees, abs=1e-12)


@pytest.mark.parametrize("typed", REFUSED)
def test_what_has_no_sure_value_is_refused_with_two_right_ways(typed):
    with pytest.raises(AngleError, match=r"142\.5 or 142 1/2"):
        parse_angle(typed)


@pytest.mark.parametrize("typed", [None, 142, 142.5, True])
def test_what_is_not_text_is_refused(typed):
    with pytest.raises(AngleError):
        parse_angle(typed)


def test_included_and_turn_are_supplements():
    assert turn_of(included_deg=142) == 38
    assert included_of(turn_deg=38) == 142
    assert turn_of(included_deg=60) == 120


@given(st.floats(0, 180))
def test_turn_of_included_of_a_turn_is_that_turn(turn):
    assert turn_of(included_deg=included_of(turn_deg=turn)) == pytest.approx(turn, abs=1e-12)


@pytest.mark.parametrize("bad", [-0.001, 180.001, nan, inf])
def test_degrees_that_no_jig_reads_are_refused(bad):
    with pytest.raises(AngleError, match="from 0 to 180"):
        turn_of(included_deg=bad)
    with pytest.raises(AngleError, match="from 0 to 180"):
        included_of(turn_deg=bad)


@pytest.mark.parametrize(
    ("included", "words"),
    [
        (142, "gentle bend: turns 38 degrees (included 142)"),
        (40, "sharp bend: turns 140 degrees (included 40), more than square"),
        (91, "gentle bend: turns 89 degrees (included 91)"),
        (89, "sharp bend: turns 91 degrees (included 89), more than square"),
        (90, "square: turns 90 degrees (included 90)"),
        (180, "straight: no turn (included 180)"),
        (127.5, "gentle bend: turns 52.5 degrees (included 127.5)"),
    ],
)
def test_the_turn_is_said_back_in_words_so_that_a_supplement_is_heard(included, words):
    assert say_turn(included_deg=included) == words
