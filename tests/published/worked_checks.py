"""What the product makes of the worked examples on check measures and wraps, given each example's own data."""

from geometry.checks import CheckInput, check_reading, closing_measure, included_from_closing
from geometry.lengths import format_length
from geometry.wraps import Layout, Saddle, hole_layout, saddle_wrap, tip_from_main_center_mm

IN = 25.4


def closing_dimension(given):
    """Compute the closing measure and its sensitivities, or the included angle from three tapes."""
    a, b = given["A"], given["B"]
    if "C" in given:
        included = included_from_closing(leg_a_mm=a, leg_b_mm=b, closing_mm=given["C"])
        one_more = included_from_closing(leg_a_mm=a, leg_b_mm=b, closing_mm=given["C"] + 1 / 16)
        return {
            "included_deg": included,
            "turn_deg": 180 - included,
            "angle_change_per_16th_of_C_deg": one_more - included,
        }
    report = check_reading(CheckInput(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=given["included_deg"]))
    return {
        "turn_deg": 180 - given["included_deg"],
        "closing_C": report.closing_computed_mm / IN,
        "closing_C_16ths": format_length(report.closing_computed_mm),
        "dC_per_in_A": report.sensitivities.per_leg_a,
        "dC_per_in_B": report.sensitivities.per_leg_b,
        "dC_per_deg": report.sensitivities.mm_per_degree / IN,
        "C_if_A_is_13": closing_measure(leg_a_mm=13, leg_b_mm=b, included_deg=given["included_deg"]),
    }


def check_measure(given):
    """Compute what each check measure would be, before and after the mistake."""
    b = given["B"]
    if "true_included_deg" in given:
        right = closing_measure(leg_a_mm=given["A"], leg_b_mm=b, included_deg=given["true_included_deg"])
        read = closing_measure(leg_a_mm=given["A"], leg_b_mm=b, included_deg=given["read_deg"])
        return {"C_true": right, "C_from_reading": read, "difference": right - read}
    included = given["included_deg"]
    if "A_true" in given:
        right = closing_measure(leg_a_mm=given["A_true"], leg_b_mm=b, included_deg=included)
        read = closing_measure(leg_a_mm=given["A_recorded"], leg_b_mm=b, included_deg=included)
        return {"C_measured": right, "C_computed": read, "difference": read - right}
    a = given["A"]
    return {
        "C_right": closing_measure(leg_a_mm=a, leg_b_mm=b, included_deg=included),
        "C_swapped": closing_measure(leg_a_mm=b, leg_b_mm=a, included_deg=included),
        "D_right": _computed_d(a, b, included),
        "D_swapped": _computed_d(b, a, included),
    }


def _computed_d(a, b, included):
    reading = CheckInput(leg_a_mm=a * IN, leg_b_mm=b * IN, included_deg=included, mark_to_end_b_mm=30.0 * IN)
    return check_reading(reading).measures[0].computed_mm / IN


def _saddle(given, scale):
    return Saddle(
        main_od_mm=2 * given["header_radius_R"] * scale,
        main_wall_mm=6.0,
        branch_od_mm=2 * given["branch_radius_r"] * scale,
        branch_wall_mm=6.0,
        included_deg=given["branch_angle_deg"],
        edge="outside",
    )


def fishmouth(given):
    """Develop the cope of a branch, outside to outside."""
    scale = 1.0 if given["header_radius_R"] > 30 else IN
    wrap = saddle_wrap(_saddle(given, scale), Layout(lines=16))
    ordinates = {f"{line.around_deg:g}": line.ordinate_mm / scale for line in wrap.ordinates}
    tip = tip_from_main_center_mm(_saddle(given, scale)) / scale
    return {
        "ordinates": ordinates,
        "longest_tip_from_header_cl": tip,
        "shortest_from_header_cl": tip + wrap.cut_back_mm / scale,
        "max_ordinate": wrap.cut_back_mm / scale,
        "right_cut_back_from_heel": {line: cut - ordinates["0"] for line, cut in ordinates.items()},
    }


def lateral_hole(given):
    """Lay out the hole under a lateral."""
    hole = hole_layout(_saddle(given, IN), Layout(lines=8))
    return {
        "points": {
            f"{point.around_branch_deg:g}": {"along": point.along_mm / IN, "around": point.around_mm / IN}
            for point in hole.points
        },
        "length_along_header": hole.length_mm / IN,
        "girth_half_width": hole.width_mm / 2 / IN,
    }
