"""Spools built and refused."""

import math
from dataclasses import replace

import pytest

from geometry.bends import BendChoice
from geometry.build import build, build_chain, chain_of
from geometry.ends import EndChoice
from geometry.lengths import MILLIMETER
from geometry.tables import pipe
from tests.geometry.test_forward_proof import chain
from tests.geometry.tie_ins import BEVELED, GROOVED, IN, codes, tie_in


def test_pieces_stand_in_order_from_end_a_with_their_ends():
    answer = build(tie_in(end_a=GROOVED))
    assert [piece.mark for piece in answer.pieces] == ["A", "E", "B"]
    assert [(end.at, end.prep) for piece in answer.pieces for end in piece.ends] == [
        ("end A", "grooved"),
        ("weld 1", "beveled"),
        ("weld 1", "beveled"),
        ("weld 2", "beveled"),
        ("weld 2", "beveled"),
        ("end B", "beveled"),
    ]


def test_joints_are_numbered_from_end_a_and_name_their_pieces():
    joints = build(tie_in()).joints
    assert [(joint.number, joint.kind, joint.pieces, joint.turn_deg) for joint in joints] == [
        (1, "butt", ("A", "E"), 0.0),
        (2, "butt", ("E", "B"), 0.0),
    ]


def test_a_miters_joints_turn_and_its_middle_pieces_are_numbered():
    answer = build(tie_in(60.0, 60.0, 90.0, bend=BendChoice("miter", welds=3, bend_radius_mm=20 * IN)))
    assert [piece.mark for piece in answer.pieces] == ["A", "M1", "M2", "B"]
    assert [joint.kind for joint in answer.joints] == ["miter"] * 3
    assert sum(joint.turn_deg for joint in answer.joints) == pytest.approx(90.0)


def test_only_the_trimmed_face_of_an_elbow_is_cut_and_beveled():
    elbow = build(tie_in()).pieces[1]
    assert [end.operations for end in elbow.ends] == [(), ("cut", "beveled")]


def test_a_miters_leg_says_throat_center_and_heel_and_takes_its_heel_from_the_bar():
    leg = build(tie_in(included=150.0, bend=BendChoice("miter"))).pieces[0]
    marks = {mark.name: mark.value_mm for mark in leg.marks}
    assert marks["heel"] - marks["center"] == pytest.approx(marks["center"] - marks["throat"])
    assert leg.stock_length_mm == pytest.approx(marks["heel"])
    assert marks["cut_back"] == pytest.approx(4.5 * IN * math.tan(math.radians(15.0)))


def test_a_pipe_between_two_miters_rolled_flat_has_no_long_side_but_takes_both_points_from_the_bar():
    bends = (BendChoice("miter"), BendChoice("miter"))
    middle = build_chain(chain((40.0, 40.0, 40.0), (30.0, 30.0), (180.0,), bends, gap=0.0)).pieces[1]
    marks = {mark.name: mark.value_mm for mark in middle.marks}
    assert marks["throat"] == pytest.approx(marks["heel"]) == pytest.approx(40 * IN)
    assert middle.stock_length_mm == pytest.approx((40 + 4.5 * math.tan(math.radians(15.0))) * IN)
    assert middle.ends[1].roll_deg == 180.0


def test_two_elbows_are_marked_e1_and_e2_and_the_pipe_between_p1():
    answer = build_chain(chain((40.0, 40.0, 40.0), (30.0, 60.0), (90.0,), (BendChoice(), BendChoice())))
    assert [piece.mark for piece in answer.pieces] == ["A", "E1", "P1", "E2", "B"]


def test_weight_is_pipe_by_the_center_line_and_elbow_by_its_arc():
    answer = build(tie_in())
    assert answer.mass_black_kg == pytest.approx(
        pipe("4", "40").kg_per_m * sum(piece.cut_length_mm for piece in answer.pieces) / 1000.0
    )


def test_the_check_dimension_leaves_out_the_coupling_and_takes_in_the_flange():
    to_center = EndChoice("grooved", "coupling_center", coupling="flexible")
    coupled = build(tie_in(end_a=to_center))
    flanged = build(tie_in(end_a=EndChoice("flanged_slip_on", "flange_face")))
    assert coupled.closing_mm == flanged.closing_mm == flanged.check_mm
    assert coupled.check_mm < coupled.closing_mm
    assert coupled.finished_legs_mm[0] == pytest.approx((40.3125 - 0.0625) * IN)


def test_field_trim_is_in_the_check_dimension():
    answer = build(tie_in(end_b=EndChoice("beveled", "pipe_end", field_trim_mm=2 * IN)))
    assert answer.finished_legs_mm[1] == pytest.approx((27.875 + 2.0) * IN)


def test_a_reading_without_closing_warns_and_names_what_c_should_be():
    answer = build(tie_in())
    assert answer.buildable
    missing = next(found for found in answer.findings if found.code == "check_missing")
    assert (missing.level, "5' 4-5/8\"" in missing.text) == ("warning", True)


def test_a_reading_that_does_not_close_is_not_built():
    answer = build(tie_in(closing=66.5))
    assert not answer.buildable
    assert (answer.pieces, answer.joints, answer.marks, answer.steps) == ((), (), (), ())
    assert "does_not_close" in codes(answer.findings)
    assert answer.take_off_mm > 0.0


def test_a_named_person_can_let_it_go():
    answer = build(tie_in(closing=66.5, misclosure_accepted=True))
    assert answer.buildable
    assert next(found.level for found in answer.findings if found.code == "does_not_close") == "warning"


def test_a_closing_that_agrees_says_nothing():
    assert not set(codes(build(tie_in(closing=64.625)).findings)) & {"check_missing", "does_not_close"}


def test_the_closing_is_between_the_references_and_not_the_finished_ends():
    to_center = EndChoice("grooved", "coupling_center", coupling="flexible")
    assert build(tie_in(end_a=to_center, end_b=to_center, closing=64.625)).buildable


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"a": 0.0}, "not_a_center_line"),
        ({"b": -3.0}, "not_a_center_line"),
        ({"a": float("nan")}, "not_a_center_line"),
        ({"included": 0.0}, "not_a_center_line"),
        ({"included": 180.1}, "not_a_center_line"),
        ({"included": float("nan")}, "not_a_center_line"),
        ({"gap": -0.1}, "root_gap_unlikely"),
        ({"gap": 3.0}, "root_gap_unlikely"),
        ({"gap": float("nan")}, "root_gap_unlikely"),
        ({"kerf_mm": -1.0}, "kerf_unlikely"),
        ({"closing": -4.0}, "closing_not_a_length"),
        ({"bend": BendChoice("glue")}, "make_up_unknown"),
        ({"end_a": EndChoice("welded", "pipe_end")}, "end_unknown"),
        ({"end_a": EndChoice("grooved", "")}, "measured_to_missing"),
        ({"end_a": EndChoice("grooved", "flange_face")}, "measured_to_unfit"),
        ({"schedule": "10S", "end_a": EndChoice("threaded", "pipe_end")}, "wall_under_thread"),
    ],
)
def test_what_a_person_can_type_wrong_is_a_finding_and_never_a_crash(changed, code):
    answer = build(tie_in(**changed))
    assert not answer.buildable
    assert answer.pieces == ()
    assert code in codes(found for found in answer.findings if found.level == "error")


def test_a_finding_of_an_end_says_which_end():
    answer = build(tie_in(end_b=EndChoice("grooved", "")))
    assert any(found.text.startswith("End B: ") for found in answer.findings)


def test_lead_is_not_measured_by_this_form():
    assert "material_unknown" in codes(build(tie_in(material="lead")).findings)


def test_metric_graduations_round_to_whole_millimeters():
    answer = build(tie_in(graduation=MILLIMETER))
    assert all(piece.rounded_cut_mm == round(piece.rounded_cut_mm) for piece in answer.pieces)


def test_a_chain_needs_one_make_up_for_each_turn():
    answer = build_chain(chain((40.0, 40.0, 40.0), (30.0, 30.0), (0.0,), (BendChoice(),)))
    assert codes(answer.findings) == ["bends_dont_match"]


def test_a_tie_in_is_a_chain_of_two_legs():
    request = tie_in(end_a=GROOVED, end_b=BEVELED, closing=64.625)
    assert build_chain(chain_of(request)).pieces == build(request).pieces


def test_a_short_pipe_between_two_bends_is_refused_by_its_mark():
    answer = build_chain(chain((40.0, 4.5, 40.0), (45.0, 45.0), (0.0,), (BendChoice(), BendChoice())))
    short = next(found for found in answer.findings if found.code == "leg_too_short")
    assert short.text.startswith('Pipe P1 between two bends leaves no pipe; the shortest piece is 2"')


def test_a_closed_chain_that_does_not_close_is_refused():
    request = chain((40.0, 40.0, 40.0), (30.0, 30.0), (0.0,), (BendChoice(), BendChoice()))
    right = build_chain(request).closing_mm
    assert build_chain(replace(request, closing_mm=right + 1.0)).buildable
    assert "does_not_close" in codes(build_chain(replace(request, closing_mm=right + 4.0)).findings)
