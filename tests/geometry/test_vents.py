"""What is shut in when a spool is dipped, and the holes that open it."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.vents import (
    ClosedEnd,
    Pad,
    Space,
    closed_end_holes,
    external_vent_mm,
    pad_holes,
    vent_findings,
    vent_pair_mm,
)

IN = 25.4
BIG = {"name": "the spool", "nps": "4", "id_mm": 4.026 * IN}


def codes(space, *pads):
    """Return the codes of what is found about one space."""
    return [finding.code for finding in vent_findings([space], pads=pads)]


def blind(name, holes=0, hole_in=0.0):
    """Return an end shut by a blind flange."""
    return ClosedEnd(name, "blind flange", holes, hole_in * IN)


def test_a_spool_open_at_both_ends_needs_no_hole_but_must_be_kept_open():
    assert codes(Space(open_ends=2, **BIG)) == ["keep_ends_open"]


def test_a_spool_shut_at_both_ends_is_stopped():
    found = vent_findings([Space(open_ends=0, closed_ends=(blind("end A"), blind("end B")), **BIG)])
    assert [finding.level for finding in found] == ["error"]
    assert found[0].text.startswith("STOP. Sealed cavity can burst in the zinc bath. Vent it.")


def test_one_vented_end_does_not_drain_the_other():
    space = Space(open_ends=0, closed_ends=(blind("end A", 2, 1.5625), blind("end B")), **BIG)
    assert codes(space) == ["end_not_vented"]


def test_a_spool_vented_at_both_shut_ends_passes():
    space = Space(open_ends=0, closed_ends=(blind("end A", 2, 1.5625), blind("end B", 2, 1.5625)), **BIG)
    assert codes(space) == []


def test_one_shut_end_needs_its_holes_though_the_other_is_open():
    assert codes(Space(open_ends=1, closed_ends=(blind("end B"),), **BIG)) == ["end_not_vented"]


@pytest.mark.parametrize(("holes", "hole_in"), [(1, 1.5625), (2, 1.5), (40, 0.25)])
def test_holes_too_small_or_too_few_are_named(holes, hole_in):
    assert codes(Space(open_ends=1, closed_ends=(blind("end B", holes, hole_in),), **BIG)) == ["vent_too_small"]


def test_small_pipe_takes_one_hole_at_a_shut_end():
    small = Space(name="stub", nps="1", id_mm=1.049 * IN, open_ends=1, closed_ends=(blind("end B"),))
    assert closed_end_holes(small).words == 'one 1/2" hole'


def test_a_space_with_one_end_is_not_a_space():
    with pytest.raises(ValueError, match="every end"):
        Space(open_ends=1, **BIG)


@given(st.floats(10, 700))
def test_a_vent_opens_a_quarter_of_the_bore_and_three_eighths_at_least(id_mm):
    hole = external_vent_mm(id_mm)
    assert hole >= max(id_mm / 4, 9.525) - 1e-9
    assert hole < max(id_mm / 4, 9.525) + IN / 16 + 1e-9


@given(st.floats(50, 700))
def test_two_holes_open_30_percent_of_the_inside_area_and_hardly_more(id_mm):
    hole = vent_pair_mm(id_mm)
    area = pi / 4 * id_mm**2
    assert 2 * pi / 4 * hole**2 >= 0.30 * area * (1 - 1e-9)
    assert 2 * pi / 4 * (hole - IN / 16) ** 2 < 0.30 * area


@pytest.mark.parametrize(
    ("area_in2", "count", "hole_in"),
    [(15.9, 0, 0.0), (16, 1, 0.375), (63.9, 1, 0.375), (64, 2, 0.5), (399, 2, 0.5), (400, 4, 0.75), (900, 12, 0.75)],
)
def test_a_pad_is_vented_by_its_area(area_in2, count, hole_in):
    holes = pad_holes(area_in2 * IN**2)
    assert (holes.count, holes.diameter_mm / IN) == (count, pytest.approx(hole_in))


def test_an_unvented_pad_is_stopped_and_a_vented_one_passes():
    open_space = Space(open_ends=2, **BIG)
    assert codes(open_space, Pad("pad", 50 * IN**2)) == ["keep_ends_open", "sealed_cavity"]
    assert codes(open_space, Pad("pad", 50 * IN**2, 1, 9.525)) == ["keep_ends_open"]
    assert codes(open_space, Pad("pad", 100 * IN**2, 1, 9.525)) == ["keep_ends_open", "vent_too_small"]
    assert codes(open_space, Pad("pad", 5 * IN**2)) == ["keep_ends_open", "pad_small"]
