"""Reading lengths: every usual form exactly, and never a wrong value."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.lengths import LengthError, format_length, graduation, parse_length
from tests.geometry.lengths.accepted_forms import ACCEPTED_INCHES, ACCEPTED_MM
from tests.geometry.lengths.refused_forms import REFUSED
from tests.geometry.lengths.token_sum import PARTS, token_sum_mm

MM_PER_INCH = Fraction(254, 10)


def test_the_tables_of_forms_hold_at_least_150_each_way_together_and_none_twice():
    assert len(ACCEPTED_INCHES) + len(ACCEPTED_MM) >= 150
    assert len(REFUSED) >= 150
    assert len(set(REFUSED)) == len(REFUSED)


@pytest.mark.parametrize(("typed", "inches"), ACCEPTED_INCHES.items())
def test_a_usual_form_in_feet_and_inches_is_read_exactly(typed, inches):
    assert parse_length(typed).mm == float(Fraction(inches) * MM_PER_INCH)


@pytest.mark.parametrize(("typed", "mm"), ACCEPTED_MM.items())
def test_a_metric_form_is_read_exactly(typed, mm):
    assert parse_length(typed).mm == float(Fraction(mm))


@pytest.mark.parametrize("typed", REFUSED)
def test_what_has_no_sure_value_is_refused_with_two_right_ways_to_write_it(typed):
    with pytest.raises(LengthError) as refused:
        parse_length(typed)
    ways = str(refused.value).rsplit("write ", 1)[-1].rstrip(".").split(" or ")
    assert len(ways) == 2, refused.value
    for way in ways:
        assert parse_length(way).mm > 0


def test_the_two_ways_offered_for_two_numbers_are_their_two_readings():
    with pytest.raises(LengthError, match=r"3' 4\" or 3/4\""):
        parse_length("3-4")


def test_a_lost_blank_before_a_fraction_is_asked_about():
    with pytest.raises(LengthError, match=r"write 2-1/16\" or 1-5/16\""):
        parse_length("21/16")


def test_what_was_typed_is_kept_as_typed():
    assert parse_length("  3’ 4⅝” ").typed == "  3’ 4⅝” "


@pytest.mark.parametrize(
    ("typed", "unit", "mm"),
    [("40", "in", 1016), ("3", "ft", 914.4), ("3.36", "ft", 1024.128), ("1024", "mm", 1024), ("1.024", "m", 1024)],
)
def test_a_bare_number_has_the_unit_that_it_is_given(typed, unit, mm):
    assert parse_length(typed, unit=unit).mm == mm


@pytest.mark.parametrize("unit", ["in", "ft", "mm", "m"])
def test_a_written_unit_outweighs_the_given_one(unit):
    assert parse_length('40-5/16"', unit=unit).mm == 1023.9375
    assert parse_length("1024 mm", unit=unit).mm == 1024.0


@pytest.mark.parametrize("unit", ["ft", "mm", "m"])
@pytest.mark.parametrize("typed", ["4 5/16", "5/16", "½", "4-5/16"])
def test_a_bare_fraction_is_of_an_inch_and_so_refused_in_other_units(typed, unit):
    with pytest.raises(LengthError):
        parse_length(typed, unit=unit)


@pytest.mark.parametrize("unit", ["mm", "m"])
def test_three_parts_without_marks_are_refused_where_bare_numbers_are_metric(unit):
    with pytest.raises(LengthError):
        parse_length("3-4-5/16", unit=unit)


def test_a_minus_sign_counts_only_where_an_offset_may_be_negative():
    assert parse_length("-3' 4\"", allow_negative=True).mm == -1016.0
    assert parse_length("−40 5/16", allow_negative=True).mm == -1023.9375
    with pytest.raises(LengthError, match="sign before it"):
        parse_length("-40")


def test_the_longest_length_is_the_callers_to_set():
    assert parse_length("100 ft").mm == 30480.0
    assert parse_length("2500 ft", longest_mm=1e6).mm == 762000.0
    with pytest.raises(LengthError, match="longer than 60 ft"):
        parse_length("61 ft", longest_mm=18288.0)


@pytest.mark.parametrize("typed", [None, 40, 40.5, True, ["40"], b"40"])
def test_what_is_not_text_is_refused(typed):
    with pytest.raises(LengthError):
        parse_length(typed)


@pytest.mark.parametrize(
    ("code", "denominator", "style"), [("1/16", 16, "auto"), ("1/32", 32, "auto"), ("1/16", 16, "inches")]
)
def test_every_graduation_to_60_feet_is_written_and_read_back_exactly(code, denominator, style):
    marks = graduation(code)
    for count in range(60 * 12 * denominator + 1):
        mm = float(Fraction(count, denominator) * MM_PER_INCH)
        assert parse_length(format_length(mm, graduation=marks, style=style)).mm == mm


@given(st.integers(0, 99), st.integers(0, 11), st.integers(0, 15))
def test_all_spellings_of_one_length_agree(feet, inches, sixteenths):
    exact = float((feet * 12 + inches + Fraction(sixteenths, 16)) * MM_PER_INCH)
    fraction = f"{sixteenths}/16"
    for typed in (
        f"{feet}' {inches}-{fraction}\"",
        f"{feet}'-{inches} {fraction}",
        f"{feet} ft {inches} {fraction} in",
        f"{feet}-{inches}-{fraction}",
        f"{feet * 12 + inches} {fraction}",
        f"{float(feet * 12 + inches + Fraction(sixteenths, 16))}",
    ):
        assert parse_length(typed).mm == exact


@given(st.text(alphabet="0123456789 '\"-/.,ftinmc½⅝⁵⁄₁₆", max_size=14))
def test_whatever_is_accepted_is_read_alike_with_its_unit_written_out(typed):
    try:
        mm = parse_length(typed).mm
    except LengthError:
        return
    assert 0 <= mm <= 30480
    assert parse_length(f"{mm:.12f} mm").mm == pytest.approx(mm, abs=1e-9)


@settings(max_examples=1000)
@given(st.lists(st.sampled_from(PARTS), min_size=1, max_size=7).map("".join))
def test_whatever_is_accepted_is_the_sum_of_its_parts(typed):
    """Second method: each number by the unit beside it."""
    try:
        mm = parse_length(typed).mm
    except LengthError:
        return
    assert mm == float(token_sum_mm(typed))


@given(st.text(max_size=70))
def test_any_text_at_all_gives_a_length_or_a_length_error(typed):
    try:
        length = parse_length(typed)
    except LengthError:
        return
    assert length.typed == typed


@given(st.integers(1, 9), st.integers(1, 9), st.sampled_from([2, 4, 8, 16, 32]))
def test_a_fraction_is_never_joined_to_the_number_before_it(whole, over, under):
    typed = f"{whole}{over}/{under}"
    if whole * 10 + over >= under:
        with pytest.raises(LengthError):
            parse_length(typed)
    else:
        assert parse_length(typed).mm == float(Fraction(whole * 10 + over, under) * MM_PER_INCH)
