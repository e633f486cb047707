"""Writing lengths as a tape reads."""

from math import nan

import pytest

from geometry.lengths import (
    MILLIMETER,
    THIRTY_SECOND,
    FeetInches,
    LengthError,
    format_length,
    parse_length,
    split_feet_inches,
)


@pytest.mark.parametrize(
    ("inches", "written"),
    [
        (40.3125, "3' 4-5/16\""),
        (35.4375, "2' 11-7/16\""),
        (11.5, '11-1/2"'),
        (0.3125, '5/16"'),
        (0.0, '0"'),
        (4.0, '4"'),
        (36.0, "3' 0\""),
        (36.3125, "3' 0-5/16\""),
        (12.0, "1' 0\""),
        (720.0, "60' 0\""),
        (-40.3125, "-3' 4-5/16\""),
        (-0.3125, '-5/16"'),
    ],
)
def test_feet_and_inches_are_written_with_a_reduced_fraction(inches, written):
    assert format_length(inches * 25.4) == written


def test_eleven_and_thirty_one_thirty_seconds_carries_to_the_foot():
    assert format_length(11.96875 * 25.4) == "1' 0\""
    assert format_length(11.96875 * 25.4, graduation=THIRTY_SECOND) == '11-31/32"'


def test_a_length_that_rounds_to_nothing_has_no_sign():
    assert format_length(-0.2) == '0"'


def test_inches_style_keeps_feet_in_inches():
    assert format_length(27.875 * 25.4, style="inches") == '27-7/8"'
    assert format_length(-27.875 * 25.4, style="inches") == '-27-7/8"'


def test_decimal_style_has_three_places_and_is_not_rounded_to_the_graduation():
    assert format_length(40.3 * 25.4, style="decimal") == '40.300"'


def test_metric_graduation_writes_whole_millimeters():
    assert format_length(911.5, graduation=MILLIMETER) == "912 mm"
    assert format_length(911.5, graduation=MILLIMETER, style="inches") == "912 mm"


def test_the_parts_of_a_length_are_ready_for_a_stacked_fraction():
    assert split_feet_inches(parse_length("3' 4 10/16").mm) == FeetInches(False, 3, 4, 5, 8)
    assert split_feet_inches(parse_length("3' 4").mm) == FeetInches(False, 3, 4, 0, 1)
    assert split_feet_inches(-11.97 * 25.4) == FeetInches(True, 1, 0, 0, 1)
    assert split_feet_inches(parse_length("31/32").mm, denominator=32) == FeetInches(False, 0, 0, 31, 32)


def test_a_tape_in_tenths_is_refused():
    with pytest.raises(LengthError, match="choose 16 or 32"):
        split_feet_inches(100.0, denominator=10)


@pytest.mark.parametrize("style", ["auto", "inches", "decimal"])
def test_nan_is_never_written(style):
    with pytest.raises(LengthError):
        format_length(nan, style=style)
