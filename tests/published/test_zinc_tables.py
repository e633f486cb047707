"""Coating, vent holes and zinc pick-up against ASTM A123, A385 and A153 as printed on public pages."""

import csv
from pathlib import Path

import pytest

from geometry.tables import pipe
from geometry.tables.zinc import ZINC_G_PER_M2_PER_UM, coating
from geometry.vents import Space, closed_end_holes, external_vent_mm, vent_pair_mm
from geometry.weights import USUAL_OVER_MINIMUM, zinc_kg

HERE = Path(__file__).parent
IN = 25.4

# ASTM A123/A123M Table 1, coating grades for pipe and tubing, thickness of steel in mm.
A123_PIPE = ((1.59, 45), (1.6, 45), (3.19, 45), (3.2, 75), (4.8, 75), (6.4, 75), (16.0, 75))


def rows(name):
    """Return the rows of a file of published figures beside this test."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(("thickness_mm", "grade"), A123_PIPE)
def test_pipe_is_coated_to_the_grade_of_its_wall(thickness_mm, grade):
    assert coating(thickness_mm=thickness_mm).minimum_um == grade


def test_a_grade_of_75_is_530_grams_a_square_meter():
    """ASTM A123 Table 2: grade 75 is 530 g/m2; A153 Note 2: 7.07 g/m2 for each micrometer."""
    assert pytest.approx(530, abs=1) == 75 * ZINC_G_PER_M2_PER_UM


@pytest.mark.parametrize("row", rows("zinc_holes.csv"), ids=lambda row: f"{row['rule']} {row['nps']}")
def test_a_vent_hole_is_as_big_as_the_hole_table_says(row):
    id_mm = pipe(row["nps"], "STD").id_mm
    assert id_mm / IN == pytest.approx(float(row["id_in"]), abs=0.0006)
    hole_mm = external_vent_mm(id_mm) if row["rule"] == "one" else vent_pair_mm(id_mm)
    assert hole_mm / IN == pytest.approx(float(row["hole_in"]), abs=1e-9)


@pytest.mark.parametrize("nps", ["3", "4", "6", "8", "10", "12"])
def test_a_closed_end_gets_the_pair_from_the_table_from_nps_3(nps):
    printed = next(row for row in rows("zinc_holes.csv") if row["rule"] == "pair" and row["nps"] == nps)
    space = Space(name="spool", nps=nps, id_mm=pipe(nps, "STD").id_mm, open_ends=2)
    assert closed_end_holes(space).count == 2
    assert closed_end_holes(space).diameter_mm / IN == pytest.approx(float(printed["hole_in"]))


@pytest.mark.parametrize("row", rows("zinc_pick_up.csv"), ids=lambda row: f"{row['nps']} {row['schedule']}")
def test_zinc_picked_up_is_the_published_share_of_the_weight(row):
    bought = pipe(row["nps"], row["schedule"])
    share = zinc_kg(bought, length_mm=1000.0, coating_um=float(row["coating_um"])) / bought.kg_per_m * 100
    assert share == pytest.approx(float(row["percent"]), abs=0.06)
    assert share * USUAL_OVER_MINIMUM == pytest.approx(float(row["usual_percent"]), abs=0.06)


@pytest.mark.parametrize("row", rows("zinc_pick_up.csv"), ids=lambda row: f"{row['nps']} {row['schedule']}")
def test_the_published_shares_use_the_grade_of_that_wall(row):
    assert coating(thickness_mm=pipe(row["nps"], row["schedule"]).wall_mm).minimum_um == float(row["coating_um"])
