"""What the joint at end B can take."""

import pytest

from geometry.allowances import flanged, grooved, joint_allowance, welded
from geometry.tables import UnknownPipe, pipe

IN = 25.4


def test_a_flexible_coupling_takes_half_its_gap_and_its_deflection():
    joint = grooved(pipe("4", "40"), coupling="flexible")
    assert joint.long_mm == pytest.approx(IN / 16)
    assert joint.turn_deg == pytest.approx(1.19)


def test_a_rigid_coupling_takes_less_turn_than_a_flexible_one():
    row = pipe("6", "40")
    assert grooved(row, coupling="rigid").turn_deg < grooved(row, coupling="flexible").turn_deg


def test_which_coupling_must_be_said():
    with pytest.raises(ValueError, match="flexible"):
        grooved(pipe("4", "40"), coupling="")


def test_a_size_without_a_groove_is_refused():
    with pytest.raises(UnknownPipe):
        grooved(pipe("1/2", "40"), coupling="flexible")


def test_a_flange_takes_three_sixty_fourths_per_foot_or_a_thirty_second():
    """PFI ES-3: 3/64 per ft is 0.224 degree; below 8 in the 1/32 rules, at NPS 4 it is 0.40 degree."""
    assert flanged(pipe("12", "STD")).turn_deg == pytest.approx(0.2238, abs=1e-3)
    assert flanged(pipe("4", "40")).turn_deg == pytest.approx(0.398, abs=1e-3)


def test_field_trim_widens_a_weld_along_the_pipe_only():
    row = pipe("6", "40")
    bare, trimmed = welded(row), welded(row, field_trim_mm=25.0)
    assert trimmed.long_mm == pytest.approx(bare.long_mm + 25.0)
    assert trimmed.offset_mm == bare.offset_mm


@pytest.mark.parametrize(
    ("prep", "joint"),
    [("plain", "butt weld"), ("beveled", "butt weld"), ("grooved", "flexible grooved coupling"),
     ("flanged_slip_on", "flange"), ("flanged_weld_neck", "flange")],
)  # fmt: skip
def test_every_end_preparation_finds_its_joint(prep, joint):
    found = joint_allowance(pipe("6", "40"), prep=prep, coupling="flexible")
    assert found.joint == joint
    assert found.source
