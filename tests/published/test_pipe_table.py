"""The pipe table against the PyPI package fluids (its rows cite ASME B36.10M-2004 and B36.19M-2004)."""

from fractions import Fraction

import pytest
from fluids.piping import nearest_pipe

from geometry.tables import all_pipes, pipe, pipe_sizes

# Plain-end masses printed in ASME B36.10M, kg/m; these few from memory, to the second decimal of the 2004 edition.
PRINTED_KG_PER_M = {
    ("2", "40"): 5.44,
    ("3", "40"): 11.29,
    ("4", "40"): 16.07,
    ("6", "40"): 28.26,
    ("8", "40"): 42.55,
    ("10", "40"): 60.29,
    ("4", "80"): 22.32,
    ("6", "80"): 42.56,
}
BY_PRINTED_METRIC_OD_MM = 0.4
"""Metric ODs are printed rounded (NPS 24: 610 for 609.6)."""


def as_number(nps):
    """Return a nominal size as fluids wants it."""
    return float(sum(Fraction(part) for part in nps.split("-")))


@pytest.mark.parametrize("row", all_pipes(), ids=lambda row: row.name)
def test_every_pipe_has_the_diameter_and_wall_of_the_package(row):
    nps, inside_m, outside_m, wall_m = nearest_pipe(NPS=as_number(row.nps), schedule=row.schedule)
    assert nps == as_number(row.nps)
    assert row.wall_mm == pytest.approx(wall_m * 1000, abs=0.02)
    assert row.od_mm == pytest.approx(outside_m * 1000, abs=BY_PRINTED_METRIC_OD_MM + 1e-9)
    assert row.id_mm == pytest.approx(inside_m * 1000, abs=BY_PRINTED_METRIC_OD_MM + 0.04)


def test_the_table_holds_the_sizes_and_schedules_of_the_shop():
    assert len(pipe_sizes()) == 21
    assert len(all_pipes()) == 125


@pytest.mark.parametrize(("key", "printed"), PRINTED_KG_PER_M.items())
def test_the_weight_is_that_printed_in_the_standard(key, printed):
    assert pipe(*key).kg_per_m == pytest.approx(printed, abs=0.03)
