"""Tolerances against PFI ES-3, ASME B16.9, AWWA C606 and IPC Table 704.1 as printed on public pages."""

import pytest

from geometry.tables.tolerances import tolerance

IN = 25.4


@pytest.mark.parametrize(("nps", "inches"), [("1/2", 1 / 8), ("10", 1 / 8), ("12", 3 / 16), ("24", 3 / 16)])
def test_a_spool_is_right_within_an_eighth_to_nps_10_and_three_sixteenths_above(nps, inches):
    """PFI ES-3 para 2.2; its metric columns print 3 and 5 mm."""
    assert tolerance("spool_linear", nps).mm == pytest.approx(inches * IN)
    assert tolerance("spool_linear", nps).mm == pytest.approx(3.0 if inches == 1 / 8 else 5.0, abs=0.3)


def test_an_elbow_is_right_within_six_hundredths_of_an_inch():
    """ASME B16.9: 0.06 in (2 mm) to NPS 24."""
    assert tolerance("elbow_center_to_end", "24").value == 0.06


@pytest.mark.parametrize(("nps", "mm"), [("3-1/2", 0.76), ("4", 1.14), ("6", 1.14), ("8", 1.52), ("24", 1.52)])
def test_a_grooved_end_is_square_within_the_sheets_figure(nps, mm):
    """AWWA C606 practice; metric columns of two public sheets."""
    assert tolerance("groove_square_cut", nps).mm == pytest.approx(mm, abs=0.01)


@pytest.mark.parametrize(("nps", "mm_per_m"), [("2-1/2", 20.8), ("3", 10.4), ("6", 10.4), ("8", 5.2)])
def test_a_drain_falls_at_least_as_the_plumbing_code_says(nps, mm_per_m):
    """IPC Table 704.1 as adopted by Chicago (Table 18-29-704.1)."""
    assert tolerance("drain_least_fall", nps).value / 12 * 1000 == pytest.approx(mm_per_m, abs=0.04)


def test_a_multiple_miter_is_cut_at_22_and_a_half_degrees_at_most():
    """ASME B31.3 304.2.3 as restated in a public appendix."""
    assert tolerance("miter_theta", "12").value == 22.5
