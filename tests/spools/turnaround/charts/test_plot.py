"""Scales with round ticks, flags in rows, labels spread out."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spools.turnaround.charts.plot import Flag, Plot, Scale, flag_spots, round_step, say_hours, spread_out
from tests.spools.turnaround.a_shop import day
from tests.spools.turnaround.charts.readable import assert_readable, words


@pytest.mark.parametrize(("rough", "step"), [(0.3, 1), (1.2, 2), (2, 2), (2.1, 5), (7, 10), (11, 20), (400, 500)])
def test_steps_are_one_two_or_five(rough: float, step: float):
    assert round_step(rough) == step


def test_a_scale_lays_values_along_the_paper():
    scale = Scale(0, 10, 20.0, 70.0)
    assert (scale.at(0), scale.at(4), scale.at(10)) == (20.0, 40.0, 70.0)


@given(st.floats(1, 5000), st.floats(30, 200))
def test_ticks_are_never_nearer_than_asked(high: float, length: float):
    scale = Scale(0.0, high, 0.0, length)
    ticks = scale.ticks(apart_mm=7.0)
    assert ticks[0] == 0
    assert all(scale.at(two) - scale.at(one) >= 7.0 - 1e-6 for one, two in pairwise(ticks))


def test_hours_are_said_with_a_tenth_only_when_few():
    assert (say_hours(6.05), say_hours(9.96), say_hours(21.4)) == ("6.0 h", "10 h", "21 h")


def test_near_flags_go_to_rows_and_far_ones_share_one():
    flags = [Flag(20.0, "P50 6.1 h"), Flag(24.0, "promise 8.5 h"), Flag(90.0, "P95 21 h")]
    assert [spot.row for spot in flag_spots(flags, right_mm=180)] == [1, 0, 0]


def test_a_flag_at_the_edge_of_the_sheet_hangs_left():
    (spot,) = flag_spots([Flag(178.0, "95 % sure Dec 3")], right_mm=180)
    assert spot.hangs_left


places = st.lists(
    st.tuples(st.floats(14, 172), st.sampled_from(["P50 6.1 h", "promise 8.5 h", "groover down", "x"])), max_size=7
)


@given(places)
def test_flags_never_lie_on_each_other_nor_on_a_line(spots: list[tuple[float, str]]):
    plot = Plot("Title", "note", width_mm=180, height_mm=90)
    plot.flags([Flag(at, said, "dim") for at, said in spots])
    assert_readable(plot.finish())


@given(st.lists(st.floats(0, 100), max_size=12))
def test_spread_labels_are_apart_inside_and_in_order(wanted: list[float]):
    moved = spread_out(wanted, apart_mm=4.0, low_mm=0.0, high_mm=100.0)
    in_order = sorted(moved)
    assert all(two - one >= 4.0 - 1e-9 for one, two in pairwise(in_order))
    assert all(-1e-9 <= place <= 100 + 1e-9 for place in moved)
    for one in range(len(wanted)):
        for two in range(len(wanted)):
            if wanted[one] < wanted[two]:
                assert moved[one] < moved[two]


def test_days_that_have_no_room_are_left_unwritten():
    plot = Plot("Title", "note", width_mm=120, height_mm=60)
    plot.day_axis([(day(f"2026-11-{number:02d}"), 14.0 + 3 * number) for number in range(1, 31)])
    assert_readable(plot.finish())
    assert 5 < len(words(plot.finish())) < 20


def test_a_bar_without_size_is_not_drawn():
    plot = Plot("Title", "note", width_mm=120, height_mm=60)
    before = len(plot.shapes)
    plot.bar((20, 20), (20, 30), fill="solid")
    assert len(plot.shapes) == before
