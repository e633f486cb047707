"""The working, line by line: every printed product is checked again here."""

import re

import pytest

from geometry.bends import BendChoice
from geometry.build import build
from geometry.ends import EndChoice
from geometry.explain import explain
from geometry.jig import SideReading
from geometry.lengths import MILLIMETER
from tests.geometry.tie_ins import GROOVED, IN, MAKE_UPS, tie_in


def working(request, **more):
    """Return the working as one text."""
    return "\n".join(explain(request, build(request), **more))


def test_a_trimmed_elbows_take_off_and_cuts_add_up_by_hand():
    said = working(tie_in(end_a=GROOVED))
    leg, take_off, gap, end, cut = map(
        float,
        re.search(
            r"Cut A: leg (\S+) - take-off (\S+) - root gap (\S+) - end (\S+) \(grooved.* = (\d+\.\d+);", said
        ).groups(),
    )
    assert cut == pytest.approx(leg - take_off - gap - end, abs=2e-4)
    radius, tangent, found = map(float, re.search(r"= (\S+) x tan 19 = \S+ x (\S+) = (\d+\.\d+)", said).groups()[:3])
    assert found == pytest.approx(radius * tangent, abs=1e-3)


def test_burn_and_set_point_are_shown_side_by_side():
    side = SideReading(reading_mm=40.3125 * IN, burn_mm=1 * IN, set_point_mm=1 * IN)
    other = SideReading(reading_mm=27.875 * IN, burn_mm=4 * IN, set_point_mm=4 * IN)
    said = working(tie_in(), sides=(side, other))
    assert "Leg A: reading 40.3125 - burn 1.0000 + set point 1.0000 = 40.3125" in said
    assert "Leg B: reading 27.8750 - burn 4.0000 + set point 4.0000 = 27.8750" in said


@pytest.mark.parametrize("bend", MAKE_UPS)
def test_every_make_up_is_explained_with_every_cut(bend):
    request = tie_in(84.0, 96.0, bend=bend)
    answer = build(request)
    said = working(request)
    for piece in answer.pieces:
        if piece.kind != "elbow":
            assert f"= {piece.cut_length_mm / IN:.4f}; the ticket says" in said
    assert f"{answer.check_mm / IN:.4f}" in said


def test_a_whole_elbow_names_its_table():
    assert "center to end of a whole LR45, from the table = 2.5000" in working(
        tie_in(included=135.0, bend=BendChoice("whole_elbow"))
    )


def test_what_an_end_leaves_on_is_added():
    trimmed = EndChoice("beveled", "pipe_end", field_trim_mm=2 * IN)
    assert "+ end 2.0000 (beveled, measured to the pipe end)" in working(tie_in(end_b=trimmed))


def test_a_weld_neck_takes_its_length_and_the_spools_gap():
    flanged = EndChoice("flanged_weld_neck", "flange_face")
    assert "- end 3.0938 (weld-neck flanged, measured to the flange face)" in working(tie_in(end_b=flanged))


def test_straight_pipe_has_no_take_off():
    said = working(tie_in(included=180.0))
    assert "Straight pipe: no bend, no take-off." in said
    assert "leg A 40.3125 + leg B 27.8750" in said


def test_metric_graduations_are_explained_in_mm():
    assert "Lengths in mm" in working(tie_in(graduation=MILLIMETER))


def test_what_cannot_be_built_is_explained_up_to_its_findings():
    said = working(tie_in(a=3.0))
    assert "Error: Leg A leaves" in said
    assert "Cut A" not in said
