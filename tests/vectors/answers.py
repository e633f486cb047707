"""What the Python geometry answers to each kind of vector, in the shape that the phone answers in."""

from collections.abc import Callable
from typing import Any

from geometry.adjust import computed_checks, readings_of
from geometry.angles import AngleError, parse_angle, say_turn
from geometry.build import BendChoice, SpoolRequest, build
from geometry.checks import CheckError, CheckInput, check_reading
from geometry.ends import EndChoice, end_prep
from geometry.jig import Jig, SideReading, legs_of
from geometry.lengths import MILLIMETER, LengthError, format_length, parse_length
from geometry.tables import pipe
from spools.queries.make_ups import MakeUpAsked, make_up_facts
from spools.second_reading import Legs, compare

Vector = dict[str, Any]


def length(given: Vector) -> Vector:
    """A length in mm, or that it is refused."""
    try:
        return {"mm": parse_length(given["text"], unit=given["unit"]).mm}
    except LengthError:
        return {"refused": True}


def angle(given: Vector) -> Vector:
    """Degrees, or that they are refused."""
    try:
        return {"deg": parse_angle(given["text"])}
    except AngleError:
        return {"refused": True}


def said(given: Vector) -> Vector:
    """An included angle in words, or a length as both unit systems write it."""
    if "included_deg" in given:
        return {"words": say_turn(included_deg=given["included_deg"])}
    return {"us": format_length(given["mm"]), "metric": format_length(given["mm"], graduation=MILLIMETER)}


def check(given: Vector) -> Vector:
    """The whole report on one reading, or that it can't be checked."""
    try:
        measured = CheckInput(
            leg_a_mm=given["leg_a_mm"],
            leg_b_mm=given["leg_b_mm"],
            included_deg=given["included_deg"],
            closing_mm=given["closing_mm"],
            mark_to_end_b_mm=given["d_mm"],
            back_mark_to_end_b_mm=given["e_mm"],
            burn_a_mm=given["burn_a_mm"],
            burn_b_mm=given["burn_b_mm"],
            set_point_a_mm=given["set_point_a_mm"],
            set_point_b_mm=given["set_point_b_mm"],
        )
    except CheckError:
        return {"refused": True}
    report = check_reading(measured)
    adjusted = report.adjusted
    return {
        "closing_computed_mm": report.closing_computed_mm,
        "checks_computed_mm": [row[0] for row in computed_checks(readings_of(measured), measured.mark_mm)],
        "misclosure_mm": report.misclosure_mm,
        "tolerance_mm": report.tolerance_mm,
        "included_by_tape_deg": report.included_by_tape_deg,
        "adjusted": {
            "leg_a_mm": adjusted.leg_a_mm,
            "leg_b_mm": adjusted.leg_b_mm,
            "included_deg": adjusted.included_deg,
            "statistic": adjusted.statistic,
        },
        "checked": report.checked,
        "closes": report.closes,
        "suspects": [
            {"code": s.code, "number": s.number, "words": s.words, "should_be": s.should_be, "statistic": s.statistic}
            for s in report.suspects
        ],
        "smallest_seen": [{"number": s.number, "size": s.size} for s in report.smallest_seen],
        "needs": list(report.needs),
        "findings": [{"level": f.level, "code": f.code, "text": f.text} for f in report.findings],
    }


def jig(given: Vector) -> Vector:
    """Legs and turn of a tape reading, and what is out of the jig's range."""
    points = given["jig"]
    legs = legs_of(
        SideReading(reading_mm=given["leg_a_mm"], burn_mm=given["burn_a_mm"], set_point_mm=points["set_point_a_mm"]),
        SideReading(reading_mm=given["leg_b_mm"], burn_mm=given["burn_b_mm"], set_point_mm=points["set_point_b_mm"]),
        included_deg=given["included_deg"] + points["included_offset_deg"],
        jig=Jig(
            least_included_deg=points["included_min_deg"],
            most_included_deg=points["included_max_deg"],
            least_leg_mm=points["leg_min_mm"],
            most_leg_mm=points["leg_max_mm"],
        ),
    )
    return {
        "leg_a_mm": legs.leg_a_mm,
        "leg_b_mm": legs.leg_b_mm,
        "included_deg": legs.included_deg,
        "turn_deg": legs.turn_deg,
        "codes": [finding.code for finding in legs.findings],
    }


def room(given: Vector) -> Vector:
    """The facts that the phone gets, and which legs the build itself finds too short (None: only the shop can tell)."""
    asked = MakeUpAsked(
        **{name: given[name] for name in ("nps", "schedule", "end_a", "end_b", "bend_kind", "radius", "gap_mm")}
    )
    facts = make_up_facts(asked)
    references = [end_prep(given[side]).measured_to[0] for side in ("end_a", "end_b")]
    answer = build(
        SpoolRequest(
            pipe=pipe(given["nps"], given["schedule"]),
            leg_a_mm=given["leg_a_mm"],
            leg_b_mm=given["leg_b_mm"],
            included_deg=given["included_deg"],
            bend=BendChoice(kind=given["bend_kind"], radius=given["radius"]),
            end_a=EndChoice(given["end_a"], references[0]),
            end_b=EndChoice(given["end_b"], references[1]),
            root_gap_mm=given["gap_mm"],
        )
    )
    short = [finding for finding in answer.findings if finding.code == "leg_too_short"]
    return {
        "facts": facts,
        "references": references,
        "too_short": [finding.text.split(" leaves")[0].removeprefix("Leg ") for finding in short],
        "left_mm": [figure.value for finding in short for figure in finding.figures if figure.name == "left"],
        "cuts_mm": [piece.cut_length_mm for piece in answer.pieces if piece.kind == "pipe"],
    }


def second(given: Vector) -> Vector:
    """What a second reading says of the first, and the likely slip."""
    finding = compare(Legs(**given["first"]), Legs(**given["second"]), first_letter="A", first_by="Ruiz")
    likely = finding.text.partition("Most likely ")[2].partition(", in one")[0]
    return {"level": finding.level, "code": finding.code, "likely": likely}


ANSWERS: dict[str, Callable[[Vector], Vector]] = {
    "lengths": length,
    "angles": angle,
    "said": said,
    "checks": check,
    "jigs": jig,
    "rooms": room,
    "seconds": second,
}
