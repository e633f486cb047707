"""Take-offs, arcs, miters and whole spools against worked examples, their sources beside them."""

import pytest

from geometry.bends import BendChoice, make_up
from geometry.bends.base import arc_marks
from geometry.build import build
from geometry.centerline import CenterlineRequest, lay_out
from geometry.ends import EndChoice
from geometry.lengths import format_length
from tests.geometry.tie_ins import BEVELED, IN, codes, tie_in, turn

TOLERANCE_IN = 0.002


@pytest.mark.parametrize(
    ("nps", "radius", "turn_deg", "take_off", "sixteenths"),
    [
        ("6", "long", 37.5, 3.0551, '3-1/16"'),
        ("4", "long", 38.0, 2.066, '2-1/16"'),
        ("8", "long", 22.5, 2.3869, '2-3/8"'),
        ("1", "long", 45.0, 0.6213, '5/8"'),
        ("4", "short", 60.0, 2.3094, '2-5/16"'),
    ],
)
def test_take_off_of_a_trimmed_elbow(nps, radius, turn_deg, take_off, sixteenths):
    """Derived: R tan(turn / 2), checked there by a numeric line and arc intersection."""
    made = make_up("trimmed_elbow").make(turn(turn_deg, BendChoice("trimmed_elbow", radius), nps=nps))
    assert made.take_off_mm / IN == pytest.approx(take_off, abs=TOLERANCE_IN)
    assert format_length(made.take_off_mm) == sixteenths


def test_arcs_of_the_handbooks_elbow():
    """Hamilton, Math To Build On (1993), Cutting Elbows: prints 3.1416 outside and 1.5708 inside."""
    throat, center, heel = (mark.value_mm for mark in arc_marks(radius_mm=3.0, od_mm=2.0, turn_deg=45.0))
    assert (throat, center, heel) == pytest.approx((1.5708, 2.3562, 3.1416), abs=1e-4)


@pytest.mark.parametrize(
    ("nps", "turn_deg", "arcs"),
    [("6", 37.5, (3.7225, 5.8905, 8.0585)), ("3", 52.25, (2.5078, 4.1037, 5.6996))],
)
def test_arcs_of_long_radius_elbows(nps, turn_deg, arcs):
    """Derived: arc length; the three-arc method is described on pipingengineer.org, custom degree elbow."""
    made = make_up("trimmed_elbow").make(turn(turn_deg, nps=nps))
    assert [mark.value_mm / IN for mark in made.marks[:3]] == pytest.approx(list(arcs), abs=TOLERANCE_IN)


def test_the_piece_left_over_after_an_eighth_of_kerf():
    """Derived: 90 less the turn less kerf / R."""
    made = make_up("trimmed_elbow").make(turn(52.25, nps="3", kerf=0.125))
    assert made.left_over_deg == pytest.approx(36.1585, abs=TOLERANCE_IN)


@pytest.mark.parametrize(
    ("nps", "turn_deg", "cut_deg", "cut_back"), [("6", 30.0, 15.0, 1.7752), ("10", 45.0, 22.5, 4.4528)]
)
def test_a_single_miter(nps, turn_deg, cut_deg, cut_back):
    """Derived: cut = turn / 2, cut-back = OD tan(cut)."""
    made = make_up("miter").make(turn(turn_deg, BendChoice("miter"), nps=nps))
    assert made.cut_angle_deg == pytest.approx(cut_deg, abs=TOLERANCE_IN)
    assert made.marks[0].value_mm / IN == pytest.approx(cut_back, abs=TOLERANCE_IN)


@pytest.mark.parametrize(
    ("nps", "schedule", "turn_deg", "welds", "radius", "expected"),
    [
        ("12", "STD", 90.0, 3, 18.0, (15.0, 4.8231, 9.6462, 6.2298, 13.0625, 3.4164)),
        ("8", "40", 60.0, 2, 16.0, (15.0, 4.2872, 8.5744, 6.2633, 10.8854, 2.3111)),
    ],
)
def test_a_miter_of_several_pieces(nps, schedule, turn_deg, welds, radius, expected):
    """Derived: end = Re tan a, middle 2 Re tan a, throat and heel with Re -+ OD/2; cut rule on piping-designer.com."""
    choice = BendChoice("miter", welds=welds, bend_radius_mm=radius * IN)
    made = make_up("miter").make(turn(turn_deg, choice, nps=nps, schedule=schedule))
    marks = {mark.name: mark.value_mm / IN for mark in (*made.parts[0].marks, *made.marks)}
    found = (made.cut_angle_deg, *(marks[name] for name in ("end_piece", "center", "throat", "heel", "cut_back")))
    assert found == pytest.approx(expected, abs=TOLERANCE_IN)


@pytest.mark.parametrize(("turn_deg", "counts", "over"), [(2.5, False, False), (30.0, True, False), (50.0, True, True)])
def test_when_a_miter_is_a_miter_and_when_the_engineer_must_say_yes(turn_deg, counts, over):
    """ASME B31.3 304.2.3: 22.5 read in a public appendix, 3 degrees from memory."""
    found = codes(make_up("miter").make(turn(turn_deg, BendChoice("miter"))).findings)
    assert ("turn_under_3" not in found) == counts
    assert ("miter_needs_engineer" in found) == over


@pytest.mark.parametrize(
    ("set_", "roll", "fitting", "true", "travel"),
    [
        (30.625, 17.625, 45.0, 35.3346, 49.9706),
        (8.0, 12.0, 45.0, 14.4222, 20.3961),
        (12.0, 0.0, 60.0, 12.0, 13.8564),
    ],
)
def test_a_rolling_offset_is_two_bends_that_undo_each_other(set_, roll, fitting, true, travel):
    """602apprentice, hunker.com and jkworthy.com print 35 3/8 and 50, 14.42, 13.8564."""
    assert true == pytest.approx((set_**2 + roll**2) ** 0.5, abs=1e-4)
    line = CenterlineRequest((10.0, travel, 10.0), (fitting, fitting), (180.0,))
    end = lay_out(line).points[-1]
    assert (end[1] ** 2 + end[2] ** 2) ** 0.5 == pytest.approx(true, abs=TOLERANCE_IN)


def test_a_six_inch_spool_beveled_at_both_ends():
    """Derived: cut = leg - take-off - root gap."""
    answer = build(tie_in(36.125, 22.5625, 127.5, nps="6"))
    assert answer.take_off_mm / IN == pytest.approx(4.4383, abs=TOLERANCE_IN)
    cuts = {piece.mark: piece.cut_length_mm / IN for piece in answer.pieces}
    assert cuts["A"] == pytest.approx(31.5929, abs=TOLERANCE_IN)
    assert cuts["B"] == pytest.approx(18.0304, abs=TOLERANCE_IN)
    by_itself = [format_length(piece.cut_length_mm) for piece in answer.pieces if piece.kind == "pipe"]
    assert by_itself == ["2' 7-9/16\"", "1' 6\""]  # the tickets round both together: these two lose 1/16 in all
    assert answer.closing_mm / IN == pytest.approx(52.9759, abs=TOLERANCE_IN)
    assert [mark.value_mm / IN for mark in answer.marks[:3]] == pytest.approx(
        [5.2114, 8.2467, 11.2819], abs=TOLERANCE_IN
    )


def test_a_four_inch_spool_measured_to_coupling_centers():
    """Derived: half of a flexible coupling's 1/8 in gap comes off each end; 0 where measured to the pipe end."""
    to_center = EndChoice("grooved", "coupling_center", coupling="flexible")
    answer = build(tie_in(48.0, 31.5, 150.0, gap=0.125, end_a=to_center, end_b=to_center))
    cuts = {piece.mark: piece.cut_length_mm / IN for piece in answer.pieces}
    assert answer.take_off_mm / IN == pytest.approx(1.6077, abs=TOLERANCE_IN)
    assert (cuts["A"], cuts["B"]) == pytest.approx((46.2048, 29.7048), abs=TOLERANCE_IN)
    assert answer.closing_mm / IN == pytest.approx(76.9098, abs=TOLERANCE_IN)
    assert [mark.value_mm / IN for mark in answer.marks[:3]] == pytest.approx(
        [1.9635, 3.1416, 4.3197], abs=TOLERANCE_IN
    )
    to_end = build(tie_in(48.0, 31.5, 150.0, gap=0.125, end_a=BEVELED, end_b=BEVELED))
    assert to_end.pieces[0].cut_length_mm / IN == pytest.approx(46.2048 + 0.0625, abs=TOLERANCE_IN)
