"""Saddles and holes against worked examples derived by bisection on the two cylinders' equations.

Source of E26 to E30: two-cylinder intersection worked with bisection, each hole point put back on both cylinders.
E28 also holds the values of a public fitter's page (unequal lateral) whose first term has the wrong sign.
E09, E11, E12: plane through a cylinder; E06: Hamilton, Math To Build On (1993), section Cutting Elbows.
"""

import pytest

from geometry.wraps import (
    Layout,
    Saddle,
    elbow_trim_marks,
    hole_layout,
    miter_end_wrap,
    miter_middle_wrap,
    saddle_wrap,
    tip_from_main_center_mm,
)

IN = 25.4
SIXTEEN = Layout(lines=16)
TOLERANCE_IN = 0.00006  # the published figures have four decimals


def outside_saddle(main_radius, branch_radius, included_deg):
    """Return a saddle from outside to outside, radii in inches."""
    return Saddle(
        main_od_mm=2 * main_radius * IN,
        main_wall_mm=6.0,
        branch_od_mm=2 * branch_radius * IN,
        branch_wall_mm=6.0,
        included_deg=included_deg,
        edge="outside",
    )


SADDLES = [
    ("E26", 2.25, 2.25, 90, {0: 2.25, 22.5: 2.0787, 45: 1.591, 67.5: 0.861, 90: 0.0}, 0.0, 2.25),
    (
        "E27",
        6.375,
        2.25,
        45,
        {
            0: 0.0,
            22.5: 0.0887,
            45: 0.3737,
            67.5: 0.8962,
            90: 1.6698,
            112.5: 2.6183,
            135: 3.5557,
            157.5: 4.2461,
            180: 4.5,
        },
        6.7656,
        4.5,
    ),
    ("E29", 3.3125, 3.3125, 60, {0: 1.9125, 45: 1.3523, 90: 0.0, 135: 4.057, 180: 5.7374}, 0.0, 5.7374),
]


@pytest.mark.parametrize(("name", "main", "branch", "included", "ordinates", "tip", "cut_back"), SADDLES)
def test_ordinates_match_the_worked_example(name, main, branch, included, ordinates, tip, cut_back):
    saddle = outside_saddle(main, branch, included)
    wrap = saddle_wrap(saddle, SIXTEEN)
    found = {line.around_deg: line.ordinate_mm / IN for line in wrap.ordinates}
    for around_deg, expected in ordinates.items():
        assert found[around_deg] == pytest.approx(expected, abs=TOLERANCE_IN), f"{name} at {around_deg}"
    assert tip_from_main_center_mm(saddle) / IN == pytest.approx(tip, abs=TOLERANCE_IN)
    assert wrap.cut_back_mm / IN == pytest.approx(cut_back, abs=TOLERANCE_IN)


E28 = Saddle(
    main_od_mm=114.0, main_wall_mm=6.0, branch_od_mm=96.0, branch_wall_mm=4.0, included_deg=45.0, edge="inside"
)


def test_a_lateral_on_its_bore_matches_the_worked_example_in_millimeters():
    # The example's low point is the smallest of its table to 0.01 mm, so the tolerance is the example's own.
    expected = [0.3748, 0.1267, 0.1945, 3.4336, 15.0092, 37.1097, 62.4199, 81.4281, 88.3748]
    found = [line.ordinate_mm for line in saddle_wrap(E28, SIXTEEN).ordinates[:9]]
    assert found == pytest.approx(expected, abs=0.01)


def test_the_public_page_with_the_wrong_sign_is_not_followed():
    quarter = saddle_wrap(E28, SIXTEEN).ordinates[4].ordinate_mm - saddle_wrap(E28, SIXTEEN).ordinates[0].ordinate_mm
    assert quarter == pytest.approx(14.63, abs=0.01)
    assert abs(quarter - 73.36) > 50


def test_the_hole_matches_the_worked_example():
    hole = hole_layout(outside_saddle(6.375, 2.25, 45), Layout(lines=8))
    expected = [(-3.182, 0.0), (-2.4517, 1.608), (-0.4103, 2.2995), (2.0483, 1.608), (3.182, 0.0)]
    for point, (along, around) in zip(hole.points, expected, strict=False):
        assert point.along_mm / IN == pytest.approx(along, abs=TOLERANCE_IN)
        assert point.around_mm / IN == pytest.approx(around, abs=TOLERANCE_IN)
    assert hole.length_mm / IN == pytest.approx(6.364, abs=TOLERANCE_IN)
    assert hole.width_mm / IN == pytest.approx(2 * 2.2995, abs=2 * TOLERANCE_IN)


def test_a_single_miter_cuts_back_as_the_worked_example_says():
    wrap = miter_end_wrap(od_mm=6.625 * IN, wall_mm=7.11, cut_deg=15.0)
    assert wrap.cut_back_mm / IN == pytest.approx(1.7752, abs=TOLERANCE_IN)


@pytest.mark.parametrize(
    ("od", "radius", "throat", "heel"), [(12.75, 18.0, 6.2298, 13.0625), (8.625, 16.0, 6.2633, 10.8854)]
)
def test_a_middle_piece_has_the_worked_throat_and_heel(od, radius, throat, heel):
    wrap = miter_middle_wrap(od_mm=od * IN, wall_mm=8.0, cut_deg=15.0, effective_radius_mm=radius * IN)
    by_name = {line.name: 2 * line.ordinate_mm / IN for line in wrap.ordinates if line.name}
    assert by_name["throat"] == pytest.approx(throat, abs=TOLERANCE_IN)
    assert by_name["heel"] == pytest.approx(heel, abs=TOLERANCE_IN)


@pytest.mark.parametrize(
    ("radius", "od", "turn", "arcs"),
    [
        (3.0, 2.0, 45.0, (1.5708, 2.3562, 3.1416)),
        (9.0, 6.625, 37.5, (3.7225, 5.8905, 8.0585)),
        (4.5, 3.5, 52.25, (2.5078, 4.1037, 5.6996)),
    ],
)
def test_an_elbow_is_marked_as_the_handbook_says(radius, od, turn, arcs):
    trim = elbow_trim_marks(radius_mm=radius * IN, od_mm=od * IN, turn_deg=turn)
    found = [arc / IN for arc in (trim.throat_mm, trim.center_mm, trim.heel_mm)]
    assert found == pytest.approx(arcs, abs=TOLERANCE_IN)


def test_what_is_left_of_the_elbow_counts_the_kerf_on_the_center_line():
    trim = elbow_trim_marks(radius_mm=4.5 * IN, od_mm=3.5 * IN, turn_deg=52.25, kerf_mm=IN / 8)
    assert trim.left_over_deg == pytest.approx(36.1585, abs=0.0001)
