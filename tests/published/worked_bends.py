"""What the product makes of the worked examples on bends and whole spools, given each example's own data."""

from geometry.bends import BendChoice, Turn, make_up
from geometry.bends.base import small_turn
from geometry.build import build, build_chain
from geometry.centerline import CenterlineRequest
from geometry.ends import EndChoice
from geometry.lengths import format_length
from geometry.rolling import rolling_offset as offset_sides
from geometry.spool import ChainRequest, SpoolRequest
from geometry.tables import pipe
from geometry.tables.tolerances import tolerance
from geometry.wraps import elbow_trim_marks

IN = 25.4


def turned(given, **choice):
    """Return the make-up of an example's turn."""
    turn_deg = given.get("turn_deg", 180 - given.get("included_deg", 180))
    asked = Turn(
        pipe=pipe(given["nps"], "STD"), turn_deg=turn_deg, choice=BendChoice(**choice), gap_mm=0.0, kerf_mm=0.0
    )
    return make_up(asked.choice.kind).make(asked)


def takeoff(given):
    """Trim an elbow to the turn."""
    made = turned(given, kind="trimmed_elbow", radius="short" if given["elbow"].startswith("SR") else "long")
    elbow = made.parts[0]
    assert round(elbow.bend_radius_mm / IN, 9) == given["R"]
    return {
        "turn_deg": elbow.turn_deg,
        "take_off": made.take_off_mm / IN,
        "take_off_16ths": format_length(made.take_off_mm),
    }


def elbow_arc(given):
    """Lay the arcs on a trimmed elbow."""
    trim = elbow_trim_marks(
        radius_mm=given["R"] * IN, od_mm=given["od"] * IN, turn_deg=given["turn_deg"], kerf_mm=0.125 * IN
    )
    return {
        "throat_arc": trim.throat_mm / IN,
        "centreline_arc": trim.center_mm / IN,
        "heel_arc": trim.heel_mm / IN,
        "left_over_deg": trim.left_over_deg,
    }


def single_mitre(given):
    """Cut one miter."""
    made = turned(given, kind="miter", welds=1)
    cut_back = next(mark.value_mm for mark in made.marks if mark.name == "cut_back") / IN
    return {
        "cut_angle_from_square_deg": made.cut_angle_deg,
        "cut_back_heel_to_throat": cut_back,
        "each_side_of_centreline": cut_back / 2,
    }


def multi_mitre(given):
    """Cut a miter of several welds."""
    made = turned(given, kind="miter", welds=given["welds"], bend_radius_mm=given["effective_radius"] * IN)
    middle = {mark.name: mark.value_mm / IN for mark in made.parts[0].marks}
    assert len(made.parts) + 2 == given["pieces"]
    return {
        "cut_angle_deg": made.cut_angle_deg,
        "end_piece_centreline": next(mark.value_mm for mark in made.marks if mark.name == "end_piece") / IN,
        "mid_piece_centreline": middle["center"],
        "mid_piece_throat": middle["throat"],
        "mid_piece_heel": middle["heel"],
        "cut_back_per_cut": middle["cut_back"],
    }


def mitre_limit(given):
    """Say of single miters whether they are one, their cut, and whether the engineer is asked."""
    assert tolerance("miter_theta", "4").value == given["multiple_mitre_theta_limit_deg"]
    turns = given["single_mitre_turns_deg"]
    made = [turned({"nps": "4", "turn_deg": turn}, kind="miter", welds=1) for turn in turns]
    codes = [{finding.code for finding in one.findings} for one in made]
    return {
        "is_mitre": [not small_turn(turn) for turn in turns],
        "theta_deg": [one.cut_angle_deg for one in made],
        "single_theta_over_22_5": ["miter_needs_engineer" in found for found in codes],
    }


def rolling_offset(given):
    """Offset with two equal fittings; where the pipe is named, build it with trimmed elbows and no root gap."""
    sides = offset_sides(set_mm=given["set"] * IN, roll_mm=given["roll"] * IN, turn_deg=given["fitting_deg"])
    found = {
        "true_offset": sides.true_offset_mm / IN,
        "travel": sides.travel_mm / IN,
        "run": sides.run_mm / IN,
        "roll_angle_deg": sides.roll_deg,
    }
    if "nps" not in given:
        return found
    fitting_deg, trimmed = float(given["fitting_deg"]), BendChoice(kind="trimmed_elbow", radius="long")
    plain = EndChoice("plain", "pipe_end")
    answer = build_chain(
        ChainRequest(
            pipe=pipe(given["nps"], "40"),
            line=CenterlineRequest((500.0, sides.travel_mm, 500.0), (fitting_deg, fitting_deg), (180.0,)),
            bends=(trimmed, trimmed),
            end_a=plain,
            end_b=plain,
            root_gap_mm=0.0,
        )
    )
    between = next(piece.cut_length_mm for piece in answer.pieces if piece.mark == "P1")
    return found | {"take_off_each": answer.take_off_mm / IN, "pipe_between_no_gap": between / IN}


def spool(given):
    """Build the spool of two legs and a trimmed elbow."""
    grooved = given["end_deduction_A"] > 0
    end = EndChoice("grooved", "coupling_center", coupling="flexible") if grooved else EndChoice("beveled", "pipe_end")
    answer = build(
        SpoolRequest(
            pipe=pipe(given["nps"], "40"),
            leg_a_mm=given["A"] * IN,
            leg_b_mm=given["B"] * IN,
            included_deg=given["included_deg"],
            bend=BendChoice(kind="trimmed_elbow", radius="long"),
            end_a=end,
            end_b=end,
            root_gap_mm=given["root_gap_each_weld"] * IN,
        )
    )
    assert answer.buildable
    cut = {piece.mark: piece.cut_length_mm for piece in answer.pieces}
    marks = {mark.name: mark.value_mm / IN for mark in answer.marks}
    return {
        "turn_deg": answer.turn_deg,
        "take_off": answer.take_off_mm / IN,
        "cut_A": cut["A"] / IN,
        "cut_A_16ths": format_length(cut["A"]),
        "cut_B": cut["B"] / IN,
        "cut_B_16ths": format_length(cut["B"]),
        "closing_C_on_measured_points": answer.closing_mm / IN,
        "throat_arc": marks["throat"],
        "centreline_arc": marks["center"],
        "heel_arc": marks["heel"],
    }
