"""Readings in, pieces out: ``python -m geometry < request.json``.

One request is a JSON object:

    {"pipe": {"nps": "4", "schedule": "40"},
     "readings": {"leg_a": "3' 4-5/16\\"", "leg_b": "27 7/8", "included_angle": 142,
                  "burn": "4", "set_point": "4", "closing": "5' 4-5/8\\""},
     "bend": {"kind": "trimmed_elbow", "radius": "long"},
     "ends": {"a": {"prep": "grooved", "measured_to": "pipe_end"},
              "b": {"prep": "beveled", "measured_to": "pipe_end"}},
     "root_gap": "3/32"}

Lengths are text (inches unless a unit is written) or numbers in ``units`` (in, ft, mm or m; in when left out).
Besides:

    readings        burn_a, burn_b, set_point_a, set_point_b for one side; d, e: the other check measures;
                    without burn and set_point the legs are read from the pivot's center
    bend.kind       trimmed_elbow (radius long or short, source 90 or 180), whole_elbow, miter (welds 1 to 5,
                    bend_radius, miters_allowed), bent_pipe (bend_radius)
    ends.*          field_trim, coupling (flexible or rigid), coupling_gap, groover_straight, flange_length,
                    flange_setback, flange_class, root_gap, fitting_face, engagement, root_process, on_main
    jig             least_included, most_included, least_leg, most_leg
    sigmas          tape, closing, protractor (degrees), significance: how well it was measured
    fit             true, or built_to (readings or adjusted), jig_play, cut, fit_up, fit_up_turn, fitting_turn: the
                    chance that end B meets its joint, and what to measure again
    survey          instead of readings: a and b, each with shots (points, the last nearest the spool) or port and
                    along (into the spool); sigma, joints_take; one bend where the axes meet, else two.
                    --shots FILE reads them from a CSV: axis,x,y,z. Without bend or bends whole fittings come first
    line            instead of readings, a whole spool: legs, turns, twists, closing; with bends, one for each turn
    rolling         instead of readings, a rolling offset: set, roll, turn; leg_a and leg_b make it a spool
    grade           instead of readings, a slope: run, slope (in per ft), plan_included_angle and main_slope
    graduation      1/16, 1/32 or 1mm; kerf; material; misclosure_accepted; line_live (true or false)
    propose         true: every make-up of this turn, best first with reasons, and why the others can't
    in_space        true: every PI, weld and end in space, overall box, longest piece, center of gravity
    wraps           true, or lines, every_deg, points, sheet: miter and saddle wraps, the main's hole, trim marks
    saddle          instead of readings, a branch by itself: main (nps and schedule, or od and wall; included_angle,
                    offset, seat, edge), on the pipe
    galvanized      true, or closed (a, b: by, holes, hole), pads (length, width, holes, hole), work_after: zinc,
                    weight after, vents and drains, what the galvanizer must be asked, what to heed on zinc

Exit 0 when it can be built, 1 with findings when not, 2 with one line when the request can't be read.
"""

import argparse
import csv
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from geometry.request import RequestError, csv_requests, json_request, shots_csv
from geometry.worked import Worked, work

BUILT, NOT_BUILT, NOT_READ = 0, 1, 2
TABLE = ("line", "buildable", "mark", "kind", "cut_length_mm", "cut_length", "check_mm", "findings")


class OneLine(argparse.ArgumentParser):
    """Says in one line what is wrong with the command."""

    def error(self, message: str) -> NoReturn:
        """Leave with one line."""
        self.exit(NOT_READ, f"{message}: see python -m geometry --help\n")


def main(arguments: Sequence[str] | None = None) -> int:
    """Read standard input, write standard output, return the exit code."""
    parser = OneLine(prog="python -m geometry", description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--csv", action="store_true", help="many readings, one a row; one JSON object a line out")
    parser.add_argument("--as-csv", action="store_true", help="with --csv: one piece a row out")
    parser.add_argument("--shots", type=Path, metavar="FILE", help="survey shots, a CSV with axis,x,y,z")
    parser.add_argument("--explain", action="store_true", help="the working, line by line, instead of JSON")
    asked = parser.parse_args(arguments)
    raw = sys.stdin.buffer.read()
    try:
        if asked.csv or asked.as_csv:
            return _many(raw, as_csv=asked.as_csv)
        worked = _worked(_with_shots(json_request(raw), asked.shots))
    except RequestError as unread:
        sys.stderr.write(f"{_one_line(unread)}\n")
        return NOT_READ
    sys.stdout.write("\n".join(worked.lines) if asked.explain else json.dumps(worked.values, indent=2))
    sys.stdout.write("\n")
    return BUILT if worked.built else NOT_BUILT


def _worked(values: dict[str, Any]) -> Worked:
    """Work a request through; whatever no part of it can take is a request that can't be read."""
    try:
        return work(values)
    except RequestError:
        raise
    except (ValueError, ArithmeticError, RecursionError) as refused:
        raise RequestError(str(refused)) from refused


def _with_shots(values: dict[str, Any], file: Path | None) -> dict[str, Any]:
    """Return the request with the shots of a file in its survey."""
    if file is None:
        return values
    try:
        shots = shots_csv(file.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError) as unread:
        raise RequestError(f"The file of shots can't be read: {unread}") from unread
    survey = values.get("survey") or {}
    if not isinstance(survey, dict):
        raise RequestError("survey: must be an object in braces")
    return {**values, "survey": {**survey, **shots}}


def _many(raw: bytes, *, as_csv: bool) -> int:
    """Work every row through; a row that can't be read is said in its place and keeps no other from being worked."""
    worst = BUILT
    table = csv.writer(sys.stdout, lineterminator="\n")
    if as_csv:
        table.writerow(TABLE)
    for line, values in csv_requests(raw):
        try:
            worked = _worked(values)
        except RequestError as unread:
            worst = NOT_READ
            said = _one_line(unread)
            sys.stderr.write(f"Line {line}: {said}\n")
            answer: dict[str, Any] = {"buildable": False, "pieces": [], "error": said}
        else:
            worst = max(worst, BUILT if worked.built else NOT_BUILT)
            answer = worked.values
        named = {"line": line, **({"mark": values["mark"]} if "mark" in values else {}), **answer}
        if as_csv:
            table.writerows(_rows(named))
        else:
            sys.stdout.write(f"{json.dumps(named)}\n")
    return worst


def _rows(answer: dict[str, Any]) -> list[list[Any]]:
    """Return one row for each piece, or one row that says why there is none."""
    said = "; ".join(finding["text"] for finding in answer.get("findings", [])) or answer.get("error", "")
    if not answer["pieces"]:
        return [[answer["line"], False, answer.get("mark", ""), "", "", "", "", said]]
    return [
        [
            answer["line"],
            True,
            f"{answer['mark']}-{piece['mark']}" if "mark" in answer else piece["mark"],
            piece["kind"],
            f"{piece['cut_length_mm']:.3f}",
            piece["cut_length"],
            f"{answer['check_mm']:.3f}",
            said,
        ]
        for piece in answer["pieces"]
    ]


def _one_line(refused: Exception) -> str:
    return " ".join(str(refused).split())[:400] or refused.__class__.__name__


if __name__ == "__main__":
    sys.exit(main())
