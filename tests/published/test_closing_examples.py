"""Closing and check measures against worked examples with their sources."""

import pytest

from geometry.checks import CheckInput, check_reading, closing_measure, included_from_closing

IN = 25.4


def test_check_measure_for_36_by_24_at_135():
    """Derived: law of cosines, end points placed by coordinates."""
    report = check_reading(CheckInput(leg_a_mm=36 * IN, leg_b_mm=24 * IN, included_deg=135.0))
    assert report.closing_computed_mm / IN == pytest.approx(55.6227, abs=1e-4)
    assert report.sensitivities.per_leg_a == pytest.approx(0.9523, abs=1e-4)
    assert report.sensitivities.per_leg_b == pytest.approx(0.8891, abs=1e-4)
    assert report.sensitivities.mm_per_degree / IN == pytest.approx(0.1917, abs=1e-4)


def test_angle_from_three_tape_measures():
    """Derived: law of cosines, 41 1/2 x 27 1/4 closing 62."""
    included = included_from_closing(leg_a_mm=41.5, leg_b_mm=27.25, closing_mm=62.0)
    assert included == pytest.approx(127.5742, abs=1e-4)
    further = included_from_closing(leg_a_mm=41.5, leg_b_mm=27.25, closing_mm=62.0625)
    assert further - included == pytest.approx(0.2477, abs=2e-3)


def test_the_blind_spot_of_12_by_24_at_60():
    """Derived: dC/dA is nothing at A = B cos g; an inch on leg A moves C 0.024 in."""
    assert closing_measure(leg_a_mm=12, leg_b_mm=24, included_deg=60) == pytest.approx(20.7846, abs=1e-4)
    assert closing_measure(leg_a_mm=13, leg_b_mm=24, included_deg=60) == pytest.approx(20.8087, abs=1e-4)


@pytest.mark.parametrize(("a", "b", "d"), [(30.0, 19.5, 28.1546), (19.5, 30.0, 38.1703)])
def test_d_sees_swapped_legs_where_c_does_not(a, b, d):
    """Derived: 30 x 19 1/2 at 125; C is 44.1739 either way."""
    measured = CheckInput(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=125.0, mark_to_end_b_mm=d * IN)
    report = check_reading(measured)
    assert report.closing_computed_mm / IN == pytest.approx(44.1739, abs=1e-4)
    assert report.measures[0].off_mm / IN == pytest.approx(0.0, abs=1e-4)


def test_the_supplement_puts_c_25_inches_off():
    """Derived: 30 x 18, 140 read as 40."""
    assert closing_measure(leg_a_mm=30, leg_b_mm=18, included_deg=140) == pytest.approx(45.2916, abs=1e-4)
    assert closing_measure(leg_a_mm=30, leg_b_mm=18, included_deg=40) == pytest.approx(19.9166, abs=1e-4)


def test_a_burned_inch_on_leg_a_moves_c_by_most_of_an_inch():
    """Derived: 36 recorded as 37, with 24 at 135."""
    assert closing_measure(leg_a_mm=37, leg_b_mm=24, included_deg=135) == pytest.approx(56.5758, abs=1e-4)


@pytest.mark.parametrize(
    ("a", "b", "included", "moved"),
    [(36, 24, 135, 0.84), (24, 24, 170, 0.99), (12, 24, 60, -0.13), (18, 30, 75, 0.16)],
)
def test_an_inch_left_in_a_b_and_c_moves_the_misclosure_by_little(a, b, included, moved):
    """Measured elsewhere: dC/dA + dC/dB - 1, the reason why C is read from the hook."""
    told = check_reading(CheckInput(leg_a_mm=a, leg_b_mm=b, included_deg=included)).sensitivities
    assert told.per_leg_a + told.per_leg_b - 1.0 == pytest.approx(moved, abs=0.006)
