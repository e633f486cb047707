"""Pipe of no nominal size: its two measures are all there is, and the formulas give what the tables give."""

import pytest

from geometry.bends.base import BendChoice
from geometry.build import SpoolRequest, build
from geometry.ends.base import EndChoice
from geometry.tables import UnknownPipe, all_pipes, pipe
from geometry.tables.odd_sizes import write_odd


@pytest.mark.parametrize("row", all_pipes(), ids=lambda row: row.name)
def test_a_pipe_of_the_table_measured_as_an_odd_one_weighs_the_same(row):
    # The table is ASME B36.10M and B36.19M; an odd size carries its outside diameter and wall to 0.001 in.
    odd = pipe(*write_odd(od_mm=row.od_mm, wall_mm=row.wall_mm))
    assert odd.od_mm == pytest.approx(row.od_mm, abs=0.0128)
    assert odd.wall_mm == pytest.approx(row.wall_mm, abs=0.0128)
    assert odd.kg_per_m == pytest.approx(row.kg_per_m, rel=0.01)


@pytest.mark.parametrize(("od_in", "wall_in"), [(0.2, 0.05), (60, 1), (5.25, 0.01), (5.25, 2.7), (5.25, -0.25)])
def test_what_can_be_no_pipe_is_refused(od_in, wall_in):
    with pytest.raises(UnknownPipe):
        write_odd(od_mm=od_in * 25.4, wall_mm=wall_in * 25.4)


@pytest.mark.parametrize("schedule", ["40", "W", "W 3", "", "W 0.25 in"])
def test_an_odd_size_needs_its_wall(schedule):
    with pytest.raises(UnknownPipe):
        pipe("OD 5.25", schedule)


def spool(bend, end_b="plain"):
    plain = EndChoice(prep="beveled", measured_to="pipe_end")
    end = EndChoice(prep=end_b, measured_to="pipe_end")
    return build(
        SpoolRequest(
            pipe=pipe("OD 5.25", "W 0.25"),
            leg_a_mm=900.0,
            leg_b_mm=600.0,
            included_deg=140.0,
            bend=BendChoice(kind=bend),
            end_a=plain,
            end_b=end,
            root_gap_mm=2.4,
        )
    )


def test_a_miter_of_it_is_built():
    assert spool("miter").buildable


@pytest.mark.parametrize(("bend", "end_b"), [("trimmed_elbow", "plain"), ("miter", "grooved"), ("miter", "threaded")])
def test_fittings_grooves_and_threads_are_refused_with_what_to_do(bend, end_b):
    answer = spool(bend, end_b)
    assert not answer.buildable
    assert any("Miter it, and leave its ends plain or beveled" in finding.text for finding in answer.findings)
