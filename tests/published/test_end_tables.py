"""Grooves, bevels, threads and flanges against AWWA C606, ASME B16.25, B1.20.1 and B16.5."""

from fractions import Fraction

import pytest

from geometry.ends import EndChoice, end_prep
from geometry.tables import (
    all_grooves,
    all_threads,
    all_weld_necks,
    bevel,
    groove,
    pipe,
    schedules,
    weld_neck,
)

IN = 25.4

# AWWA C606 roll groove, as printed on public roll-groove sheets: gasket seat A, groove width B, groove diameter C, in.
C606 = {
    "2": (0.625, 0.344, 2.250),
    "2-1/2": (0.625, 0.344, 2.720),
    "3": (0.625, 0.344, 3.344),
    "4": (0.625, 0.344, 4.334),
    "6": (0.625, 0.344, 6.455),
    "8": (0.750, 0.469, 8.441),
    "10": (0.750, 0.469, 10.562),
    "12": (0.750, 0.469, 12.531),
}
# ASME B1.20.1: threads per inch by nominal size.
THREADS_PER_INCH = {"1/2": 14, "3/4": 14, "1": 11.5, "1-1/4": 11.5, "1-1/2": 11.5, "2": 11.5}
# ASME B16.5-1996, class 150 weld neck, length through hub, inch fractions; from memory.
B16_5_INCHES = {
    "1/2": "1-7/8",
    "3/4": "2-1/16",
    "1": "2-3/16",
    "1-1/4": "2-1/4",
    "1-1/2": "2-7/16",
    "2": "2-1/2",
    "2-1/2": "2-3/4",
    "3": "2-3/4",
    "3-1/2": "2-13/16",
    "4": "3",
    "5": "3-1/2",
    "6": "3-1/2",
    "8": "4",
    "10": "4",
    "12": "4-1/2",
    "14": "5",
    "16": "5",
    "18": "5-1/2",
    "20": "5-11/16",
    "24": "6",
}


@pytest.mark.parametrize("row", all_grooves(), ids=lambda row: row.nps)
def test_groove_diameter_is_the_od_less_twice_the_depth(row):
    """AWWA C606: D is (OD - C)/2; one public sheet misprints C 4.344 for NPS 4, which this catches."""
    assert row.groove_diameter_mm == pytest.approx(row.od_mm - 2 * row.groove_depth_mm, abs=0.003 * IN)


@pytest.mark.parametrize("row", all_grooves(), ids=lambda row: row.nps)
def test_a_groove_is_on_the_pipe_of_its_size(row):
    assert row.od_mm == pytest.approx(pipe(row.nps, schedules(row.nps)[0]).od_mm)
    assert row.groove_diameter_mm < row.od_mm < row.largest_flare_mm
    assert row.minimum_wall_mm < row.od_mm / 10


@pytest.mark.parametrize(("nps", "printed"), C606.items())
def test_a_groove_has_the_dimensions_printed(nps, printed):
    row = groove(nps)
    assert (row.gasket_seat_mm, row.groove_width_mm, row.groove_diameter_mm) == pytest.approx([x * IN for x in printed])


@pytest.mark.parametrize("row", all_grooves(), ids=lambda row: row.nps)
def test_half_the_generic_gap_is_what_the_coupling_takes(row):
    """Generic trade value, the coupling's sheet governs: 1/32 in to NPS 3-1/2, 1/16 from NPS 4."""
    choice = EndChoice("grooved", "coupling_center", coupling="flexible")
    half_in = Fraction(1, 32) if row.od_mm < 4.25 * IN else Fraction(1, 16)
    effect = end_prep("grooved").effect(pipe(row.nps, "STD"), choice)
    assert effect.deduction_mm == pytest.approx(float(half_in) * IN)


def test_a_single_bevel_is_37_and_a_half_degrees_with_its_land():
    """ASME B16.25 figure 2(b): 37-1/2 +-2-1/2 degrees, root face 1/16 +-1/32 in (0.06 +-0.03)."""
    row = bevel(wall_mm=6.02)
    assert (row.bevel_deg, row.bevel_plus_deg, row.bevel_minus_deg) == (37.5, 2.5, 2.5)
    assert row.land_mm == pytest.approx(1.6, abs=0.1)
    assert (row.wall_over_mm, row.wall_to_mm) == pytest.approx((3.0, 22.0), abs=0.4)


def test_a_heavy_wall_breaks_to_10_degrees_three_quarters_of_an_inch_up():
    """ASME B16.25 figure 2(c): above 22 mm (0.88 in), 37-1/2 to 3/4 in above the inside, then 10 degrees."""
    row = bevel(wall_mm=25.0)
    assert (row.bevel_deg, row.second_bevel_deg) == (37.5, 10)
    assert row.break_height_mm == pytest.approx(19.0, abs=0.1)
    assert row.wall_over_mm == pytest.approx(22.0, abs=0.4)


@pytest.mark.parametrize("row", all_threads(), ids=lambda row: row.nps)
def test_effective_thread_follows_the_standards_own_formula(row):
    """ASME B1.20.1: L2 = (0.80 D + 6.8) / n."""
    od_in, n = pipe(row.nps, schedules(row.nps)[0]).od_in, THREADS_PER_INCH.get(row.nps, 8)
    assert row.effective_mm / IN == pytest.approx((0.80 * od_in + 6.8) / n, abs=0.0006)


@pytest.mark.parametrize("row", all_threads(), ids=lambda row: row.nps)
def test_wrench_makes_up_three_turns_to_nps_2_and_two_turns_above(row):
    """ASME B1.20.1: L3 is 3 turns to NPS 2 and 2 turns above it."""
    n = THREADS_PER_INCH.get(row.nps, 8)
    turns = 3 if row.nps in THREADS_PER_INCH else 2
    assert (row.wrench_tight_mm - row.hand_tight_mm) / IN == pytest.approx(turns / n, abs=0.0005)
    assert row.turn_mm / IN == pytest.approx(1 / n, abs=0.0005)


@pytest.mark.parametrize("row", all_threads(), ids=lambda row: row.nps)
def test_working_engagement_lies_between_hand_tight_and_the_whole_thread(row):
    """Handbook engagement against B1.20.1's own lengths, one turn of play."""
    assert row.hand_tight_mm < row.working_engagement_mm < row.effective_mm + row.turn_mm


def test_the_flange_table_holds_every_size_of_the_standard():
    assert {row.nps for row in all_weld_necks()} == set(B16_5_INCHES)


@pytest.mark.parametrize(("nps", "printed"), B16_5_INCHES.items())
def test_a_weld_neck_is_as_long_as_printed(nps, printed):
    inches = float(sum(Fraction(part) for part in printed.split("-")))
    assert weld_neck(nps).face_to_bevel_mm == pytest.approx(inches * IN, abs=0.006 * IN)
