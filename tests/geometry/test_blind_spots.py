"""What the check measures taken can't see."""

from geometry.blind_spots import blind_legs, further_measures, seeing_measure
from geometry.checks import CheckInput

IN = 25.4


def reading(a, b, included, **more):
    return CheckInput(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=included, closing_mm=20 * IN, **more)


def test_the_blind_spot_is_where_a_is_b_times_the_cosine():
    assert blind_legs(reading(12, 24, 60)) == ("A",)
    assert blind_legs(reading(24, 12, 60)) == ("B",)


def test_an_open_turn_is_seen_on_both_legs():
    assert blind_legs(reading(36, 24, 135)) == ()


def test_leg_a_can_only_be_seen_by_e():
    assert seeing_measure(reading(14, 28, 60), "A") == "E"


def test_before_any_check_is_taken_the_blindness_of_c_is_foretold():
    bare = CheckInput(leg_a_mm=14 * IN, leg_b_mm=28 * IN, included_deg=60)
    assert further_measures(bare, (), closes=False) == ("E",)


def test_a_measure_already_taken_is_not_asked_for_again():
    taken = reading(36, 24, 135, mark_to_end_b_mm=33 * IN)
    assert further_measures(taken, (), closes=False) == ("E",)
