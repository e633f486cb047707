"""The list of known mistakes, each undone."""

from geometry.checks import CheckInput
from geometry.mistakes import known_mistakes

IN = 25.4


def reading(**more):
    given = {"leg_a_mm": 36 * IN, "leg_b_mm": 24 * IN, "included_deg": 135.0, "burn_a_mm": IN, "burn_b_mm": 2 * IN}
    return CheckInput(**(given | more))


def codes(measured):
    return [mistake.code for mistake in known_mistakes(measured)]


def test_no_two_mistakes_of_one_reading_share_a_code_and_a_value():
    measured = reading(closing_mm=55.6 * IN, mark_to_end_b_mm=33.5 * IN, back_mark_to_end_b_mm=44.3 * IN)
    made = [(mistake.code, mistake.undone) for mistake in known_mistakes(measured)]
    assert len(set(made)) == len(made)


def test_the_burn_is_its_own_for_each_side():
    """Trap 1: one burn for both sides would undo the wrong inches."""
    undone = {mistake.code: mistake.undone for mistake in known_mistakes(reading())}
    assert round((36 * IN - undone["burn_left_in_a"].leg_a) / IN, 6) == 1
    assert round((24 * IN - undone["burn_left_in_b"].leg_b) / IN, 6) == 2


def test_an_inch_too_long_is_the_burned_inch_where_one_was_held():
    assert "inch_long_a" not in codes(reading())
    assert "inch_long_b" in codes(reading())


def test_without_a_burn_an_inch_too_long_is_still_a_suspect():
    made = codes(reading(burn_a_mm=0.0, burn_b_mm=0.0))
    assert "inch_long_a" in made
    assert "burn_left_in_a" not in made


def test_a_mistake_that_would_leave_no_leg_is_left_out():
    assert "foot_long_b" not in codes(reading(leg_b_mm=11 * IN))


def test_the_fraction_is_that_of_the_tape_and_not_of_the_leg():
    """Leg 23 3/8 with a set point of 5 1/16 was read as 18 5/16 on the tape."""
    words = [mistake.words for mistake in known_mistakes(
        reading(leg_b_mm=23.375 * IN, burn_b_mm=0.0, set_point_b_mm=5.0625 * IN)
    ) if mistake.code == "fraction_misread_b"]  # fmt: skip
    assert words == ["the fraction of leg B: 5/8 read as 5/16", "the fraction of leg B: 5/32 read as 5/16"]


def test_a_metric_reading_has_no_fraction_to_misread():
    assert not any(code.startswith("fraction") for code in codes(reading(leg_a_mm=913.0, leg_b_mm=607.0)))


def test_check_measures_not_taken_cannot_be_wrong():
    assert not any(mistake.number in {"C", "D", "E", "CDE"} for mistake in known_mistakes(reading()))
