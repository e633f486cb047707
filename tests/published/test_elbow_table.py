"""The elbow table against ASME B16.9 (metric columns of a public butt-weld fitting table) and its own relations."""

import pytest

from geometry.tables import all_elbows, elbow, nps_inches, pipe, pipe_sizes, schedules

# ASME B16.9, long radius 45 elbows, center-to-end B in mm, NPS 1/2 to 24.
LR45_MM = (16, 19, 22, 25, 29, 35, 44, 51, 57, 64, 79, 95, 127, 159, 190, 222, 254, 286, 318, 343, 381)
# ASME B16.9, long radius 90 elbows, center-to-end A in mm, NPS 1/2 to 24.
LR90_MM = (38, 38, 38, 48, 57, 76, 95, 114, 133, 152, 190, 229, 305, 381, 457, 533, 610, 686, 762, 838, 914)


@pytest.mark.parametrize(("nps", "printed_mm"), list(zip(pipe_sizes(), LR45_MM, strict=True)))
def test_a_whole_45_has_the_center_to_end_printed_in_mm(nps, printed_mm):
    assert elbow(nps, "LR45").standard_mm == pytest.approx(printed_mm, abs=0.8)


@pytest.mark.parametrize(("nps", "printed_mm"), list(zip(pipe_sizes(), LR90_MM, strict=True)))
def test_a_whole_90_has_the_center_to_end_printed_in_mm(nps, printed_mm):
    assert elbow(nps, "LR90").standard_mm == pytest.approx(printed_mm, abs=0.6)


@pytest.mark.parametrize("nps", [size for size in pipe_sizes() if size not in ("1/2", "3/4")])
def test_bend_radius_is_one_and_a_half_or_one_nominal_size(nps):
    """ASME B16.9: long radius 1.5 x NPS, short radius 1.0 x NPS; NPS 1/2 and 3/4 are fixed at 1.5 in."""
    assert elbow(nps, "LR90").bend_radius_mm == pytest.approx(1.5 * nps_inches(nps) * 25.4)
    assert elbow(nps, "SR90").bend_radius_mm == pytest.approx(nps_inches(nps) * 25.4)


@pytest.mark.parametrize("nps", ["1/2", "3/4"])
def test_the_smallest_long_radius_elbows_are_bent_at_an_inch_and_a_half(nps):
    assert elbow(nps, "LR90").bend_radius_mm == pytest.approx(38.1)


@pytest.mark.parametrize("row", [row for row in all_elbows() if row.kind.endswith("180")], ids=lambda row: row.nps)
def test_a_return_is_two_radii_wide(row):
    assert row.dimension == "center_to_center"
    assert row.standard_mm == pytest.approx(2 * row.bend_radius_mm)


@pytest.mark.parametrize("row", [row for row in all_elbows() if row.kind.endswith("90")], ids=lambda row: row.nps)
def test_a_90_is_one_radius_from_center_to_end(row):
    assert row.standard_mm == pytest.approx(row.bend_radius_mm, abs=0.13)


def test_a_whole_45_differs_from_a_trimmed_one_where_the_trade_notes_say_so():
    """Derived: B16.9's B minus R tan 22.5, in inches."""
    for nps, longer_in in {"1": 0.26, "2": 0.14, "3": 0.14, "4": 0.01, "16": 0.06, "22": -0.17, "24": 0.09}.items():
        row = elbow(nps, "LR45")
        trimmed_mm = row.bend_radius_mm * 0.41421356237309503
        assert (row.standard_mm - trimmed_mm) / 25.4 == pytest.approx(longer_in, abs=0.005)


@pytest.mark.parametrize("row", all_elbows(), ids=lambda row: f"{row.kind} {row.nps}")
def test_every_elbow_belongs_to_a_pipe(row):
    assert pipe(row.nps, schedules(row.nps)[0]).nps == row.nps
