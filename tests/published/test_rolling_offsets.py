"""Rolling offsets against printed examples."""

import pytest

from geometry.rolling import rolling_offset


@pytest.mark.parametrize(
    ("set_in", "roll_in", "turn", "true_offset", "travel", "run", "roll_deg"),
    [
        (30.625, 17.625, 45, 35.3346, 49.9706, 35.3346, 29.9209),  # apprentice text, prints 35 3/8 and 50
        (8.0, 12.0, 45, 14.4222, 20.3961, 14.4222, 56.3099),  # public how-to, prints 14.42
        (12.0, 0.0, 60, 12.0, 13.8564, 6.9282, 0.0),  # plumbing handbook page, prints 13.8564 (6.9288 by 4 figures)
        (14.0, 9.5, 45, 16.9189, 23.927, 16.9189, 34.1597),  # derived: Pythagoras
    ],
)
def test_printed_rolling_offsets(set_in, roll_in, turn, true_offset, travel, run, roll_deg):
    offset = rolling_offset(set_mm=set_in, roll_mm=roll_in, turn_deg=turn)
    assert offset.true_offset_mm == pytest.approx(true_offset, abs=1e-4)
    assert offset.travel_mm == pytest.approx(travel, abs=1e-4)
    assert offset.run_mm == pytest.approx(run, abs=1e-4)
    assert offset.roll_deg == pytest.approx(roll_deg, abs=1e-4)
