"""What the product makes of the worked examples on weights, grade, lengths and ends, given each example's own data."""

from math import degrees

from geometry.ends import EndChoice, end_prep
from geometry.grade import fall, true_included_deg
from geometry.lengths import format_length, parse_length
from geometry.tables import PipeRow, pipe
from geometry.tables.tolerances import tolerance
from geometry.weights import pipe_kg, pounds, pounds_per_foot, zinc_kg

IN = 25.4


def of_size(given) -> PipeRow:
    """Return the pipe of an example: its size, and the wall when the example has one."""
    row = pipe(given["nps"], "STD")
    if "wall" not in given:
        return row
    return next(p for s in ("10S", "10", "40", "STD", "80", "XS") if (p := pipe(row.nps, s)).wall_in == given["wall"])


def weight(given):
    """Weigh pipe."""
    row = of_size(given)
    per_foot = pounds_per_foot(row)
    piece = pounds(pipe_kg(row, length_mm=given.get("length_in", 12.0) * IN))
    return {"lb_per_ft": per_foot, "published_rounded_lb_per_ft": per_foot, "piece_lb": piece}


def zinc(given):
    """Weigh the zinc on a foot of pipe."""
    row = of_size(given)
    kg = zinc_kg(row, length_mm=304.8, coating_um=given["coating_um"])
    return {"percent": 100 * kg / pipe_kg(row, length_mm=304.8), "lb_per_ft": pounds(kg)}


def grade(given):
    """Let a run fall."""
    assert round(parse_length(given["run_text"]).mm / IN, 9) == given["run"]
    drop = fall(run_mm=given["run"] * IN, slope_in_per_ft=given["slope_in_per_ft"])
    return {
        "fall": drop.fall_mm / IN,
        "fall_16ths": format_length(drop.fall_mm),
        "percent": drop.percent,
        "angle_deg": drop.slope_deg,
        "true_length": drop.true_length_mm / IN,
    }


def compound_angle(given):
    """Find the true included angle of two pipes on grade."""
    true = true_included_deg(
        plan_included_deg=given["plan_angle_deg"],
        branch_slope_in_per_ft=given["branch_slope_in_per_ft"],
        main_slope_in_per_ft=given["header_slope_in_per_ft"],
    )
    return {"true_angle_deg": true, "error_if_plan_used_deg": true - given["plan_angle_deg"]}


def feet_inch_fraction(given):
    """Subtract, or round to a sixteenth."""
    if "a" in given:
        left = parse_length(given["a"]).mm - parse_length(given["b"]).mm
        return {"result": format_length(left), "decimal_in": round(left / IN, 9)}
    return {"result_16ths": format_length(given["inches"] * IN), "result_of_11_96": format_length(11.96 * IN)}


def ends(given):
    """Make a threaded nipple, or set a slip-on back and square its face."""
    if "engagement" in given:
        choice = EndChoice(
            "threaded",
            "fitting_center",
            fitting_face_mm=given["fitting_centre_to_face"] * IN,
            engagement_mm=given["engagement"] * IN,
        )
        each = end_prep("threaded").effect(pipe(given["nps"], "40"), choice).deduction_mm / IN
        return {"cut": given["centre_to_centre"] - 2 * each}
    twelve = pipe("12", "STD")
    assert twelve.wall_in == given["wall"]
    set_back = end_prep("flanged_slip_on").effect(twelve, EndChoice("flanged_slip_on", "flange_face")).deduction_mm
    offset = tolerance("flange_angularity_least", "4").value
    return {"set_back": set_back / IN, "angle_deg": [degrees(offset / across) for across in given["faces"]]}
