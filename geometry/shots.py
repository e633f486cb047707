"""A file of survey shots to the two axes of each tie-in."""

import csv
import io
import re
from dataclasses import dataclass

from geometry.axes import SurveyError
from geometry.vectors import Vector

UNIT_MM = {"mm": 1.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
NUMBER = re.compile(r"[+-]?(?:[0-9]{1,12}(?:\.[0-9]{0,18})?|\.[0-9]{1,18})(?:[eE]-[0-9]{1,2})?", re.ASCII)
"""A plain decimal; a spreadsheet writes next to nothing as 1.8E-15, and 1E+05 has lost its digits."""
LONGEST_FILE = 2_000_000
MOST_SHOTS = 20_000
COLUMNS = ("axis", "x", "y", "z")


@dataclass(frozen=True, slots=True)
class SurveyedPorts:
    """The shots of one tie-in in mm, on axis A and on axis B, each in order from the existing pipe to the spool."""

    mark: str
    shots_a: tuple[Vector, ...]
    shots_b: tuple[Vector, ...]


def read_shots(text: str, *, unit: str) -> tuple[SurveyedPorts, ...]:
    """Read shots from text with a heading line: ``mark, axis, x, y, z`` (``mark`` may be left out for one tie-in).

    Args: the text, comma, semicolon or tab between; ``unit`` of the coordinates: mm, m, in or ft. Axis is A or B;
    shots of one axis stand in order from the existing pipe toward the spool. Numbers are plain decimals with a point.
    Returns the tie-ins in the order they first appear.
    Raises SurveyError that names the line and what to write there.

    >>> ports = read_shots("axis,x,y,z\\nA,0,0,0\\nA,1,0,0\\nB,9,5,0\\nB,9,4,0\\n", unit="ft")[0]
    >>> ports.shots_a[1], len(ports.shots_b)
    ((304.8, 0.0, 0.0), 2)
    """
    if unit not in UNIT_MM:
        raise SurveyError("Say the unit of the coordinates: mm, m, in or ft.")
    if len(text) > LONGEST_FILE:
        raise SurveyError("This file is too long for a list of shots: send one tie-in or one day at a time.")
    rows = _rows(text)
    places = _columns(rows[0]) if rows else {}
    found: dict[str, tuple[list[Vector], list[Vector]]] = {}
    for line, cells in enumerate(rows[1:], start=2):
        if not any(cells):
            continue
        mark, axis, point = _shot(cells, places, line, UNIT_MM[unit])
        found.setdefault(mark, ([], []))["AB".index(axis)].append(point)
    if not found:
        raise SurveyError('No shots: the first line is "mark,axis,x,y,z", then one line for each shot.')
    return tuple(_ports(mark, *both) for mark, both in found.items())


def _rows(text: str) -> list[list[str]]:
    heading = text.lstrip("\ufeff").split("\n", 1)[0]
    between = max(",;\t", key=heading.count)
    rows = []
    try:
        for row in csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=between):
            rows.append([cell.strip() for cell in row])
            if len(rows) > MOST_SHOTS:
                raise SurveyError(f"More than {MOST_SHOTS} shots in one file: send one day at a time.")
    except csv.Error as wrong:
        raise SurveyError(f"This is not a list of shots ({wrong}): save it as CSV.") from wrong
    return rows


def _columns(heading: list[str]) -> dict[str, int]:
    names = [name.lower() for name in heading]
    missing = [name for name in COLUMNS if name not in names]
    if missing:
        raise SurveyError(f'Line 1: the heading lacks {", ".join(missing)}. Write "mark,axis,x,y,z".')
    return {name: names.index(name) for name in (*COLUMNS, "mark") if name in names}


def _shot(cells: list[str], places: dict[str, int], line: int, scale: float) -> tuple[str, str, Vector]:
    def cell(name: str) -> str:
        place = places[name]
        if place >= len(cells):
            raise SurveyError(f"Line {line}: {name} is missing.")
        return cells[place]

    axis = cell("axis").upper()
    if axis not in ("A", "B"):
        raise SurveyError(f'Line {line}: the axis must be A or B, not "{axis[:20]}".')
    numbers = []
    for name in ("x", "y", "z"):
        text = cell(name)
        if not NUMBER.fullmatch(text):
            raise SurveyError(f'Line {line}: {name} must be a plain number such as 1234.567, not "{text[:20]}".')
        numbers.append(float(text) * scale)
    return cell("mark") if "mark" in places else "", axis, (numbers[0], numbers[1], numbers[2])


def _ports(mark: str, shots_a: list[Vector], shots_b: list[Vector]) -> SurveyedPorts:
    for name, shots in (("A", shots_a), ("B", shots_b)):
        if len(shots) < 2:
            whose = f" of {mark}" if mark else ""
            raise SurveyError(f"Axis {name}{whose} has {len(shots)} shots: two at least, as far apart as you can.")
    return SurveyedPorts(mark, tuple(shots_a), tuple(shots_b))
