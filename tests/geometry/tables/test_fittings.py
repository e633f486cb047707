"""Rows of elbows, grooves, bevels, threads, flanges, tolerances and zinc, and what is said where there is none."""

import pytest

from geometry.tables import (
    UnknownPipe,
    all_bevels,
    all_elbows,
    all_grooves,
    all_pipes,
    all_threads,
    all_weld_necks,
    bevel,
    elbow,
    groove,
    thread,
    weld_neck,
)
from geometry.tables.tolerances import all_tolerances, tolerance
from geometry.tables.zinc import all_coatings, coating


@pytest.mark.parametrize(
    "rows",
    [
        all_pipes(),
        all_elbows(),
        all_grooves(),
        all_bevels(),
        all_threads(),
        all_weld_necks(),
        all_tolerances(),
        all_coatings(),
    ],
)
def test_every_row_says_where_it_is_from_and_how_sure_it_is(rows):
    assert rows
    for row in rows:
        assert row.source
        assert row.confidence in {"package", "published", "derived", "memory"}


def test_a_small_short_radius_elbow_that_the_standard_lacks_is_refused_with_what_there_is():
    with pytest.raises(UnknownPipe, match="no SR90 in NPS 3/4: choose LR90, LR45, LR180"):
        elbow("3/4", "SR90")


def test_an_unknown_elbow_kind_names_those_there_are():
    with pytest.raises(UnknownPipe, match="choose LR90, LR45, SR90, LR180, SR180"):
        elbow("4", "LR60")


def test_a_size_without_a_groove_names_those_there_are():
    with pytest.raises(UnknownPipe, match="NPS 22: choose 1, 1-1/4"):
        groove("22")


@pytest.mark.parametrize(
    ("wall_in", "process", "form"),
    [
        (0.109, "SMAW", "square or slight chamfer"),
        (0.120, "SMAW", "square or slight chamfer"),
        (0.121, "SMAW", "single bevel"),
        (0.237, "SMAW", "single bevel"),
        (0.88, "SMAW", "single bevel"),
        (0.881, "SMAW", "compound bevel"),
        (1.219, "SMAW", "compound bevel"),
        (0.237, "GTAW", "single bevel or slightly concave"),
        (0.5, "GTAW", "J bevel"),
        (1.1, "GTAW", "compound J bevel"),
    ],
)
def test_the_bevel_follows_wall_and_root_process(wall_in, process, form):
    assert bevel(wall_mm=wall_in * 25.4, process=process).form == form


@pytest.mark.parametrize(("wall_mm", "process"), [(0.0, "SMAW"), (-1.0, "SMAW"), (float("nan"), "SMAW"), (6.0, "MILL")])
def test_an_impossible_wall_or_process_has_no_bevel(wall_mm, process):
    with pytest.raises(ValueError, match=r"check the pipe|choose SMAW or GTAW"):
        bevel(wall_mm=wall_mm, process=process)


def test_a_flange_class_that_the_table_lacks_must_be_measured():
    with pytest.raises(UnknownPipe, match="class 300: measure the flange"):
        weld_neck("4", flange_class="300")
    with pytest.raises(UnknownPipe, match="NPS 22 class 150"):
        weld_neck("22")


def test_a_size_without_a_thread_names_those_there_are():
    with pytest.raises(UnknownPipe, match="NPS 24: choose 1/2"):
        thread("24")


def test_the_spool_tolerance_grows_from_nps_12():
    assert tolerance("spool_linear", "10").mm == pytest.approx(25.4 / 8)
    assert tolerance("spool_linear", "12").mm == pytest.approx(25.4 * 3 / 16)


def test_an_unknown_tolerance_names_those_there_are():
    with pytest.raises(UnknownPipe, match=r"there are .*spool_linear"):
        tolerance("luck", "4")


def test_a_tolerance_in_degrees_is_no_length():
    with pytest.raises(ValueError, match="in deg, not a length"):
        _ = tolerance("miter_theta", "4").mm


@pytest.mark.parametrize(
    ("thickness_mm", "steel", "um"),
    [
        (1.5, "pipe", 45),
        (3.19, "pipe", 45),
        (3.2, "pipe", 75),
        (4.8, "pipe", 75),
        (20.0, "pipe", 75),
        (2.0, "plate", 65),
        (16.0, "plate", 100),
        (6.4, "shape", 100),
    ],
)
def test_the_coating_follows_kind_and_thickness_of_steel(thickness_mm, steel, um):
    assert coating(thickness_mm=thickness_mm, steel=steel).minimum_um == um


@pytest.mark.parametrize("thickness_mm", [0.0, -1.0, float("nan")])
def test_steel_without_thickness_has_no_coating(thickness_mm):
    with pytest.raises(ValueError, match="check the wall"):
        coating(thickness_mm=thickness_mm)
