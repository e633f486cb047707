"""A list of survey shots, checked line by line, then axis by axis, before any of it is saved."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from geometry.axes import SurveyError, axis_from_shots
from geometry.findings import Finding
from geometry.shots import NUMBER, UNIT_MM
from geometry.survey import SurveyedTieIn, tie_in_from_axes
from geometry.vectors import Vector
from spools.errors import ShopError
from spools.imports.checked import BadRow, Checked, GoodRow, Problems
from spools.imports.table import Row, Table
from spools.marks import mark_key

HEADINGS = {"mark": "mark", "tie in": "mark", "axis": "axis", "x": "x", "y": "y", "z": "z"}
JOINTS_TAKE_MM = 25.4 / 8  # across both joints together, where no coupling is known (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyLine:
    """The shots of one tie-in in mm, and what they ask for: one bend, two, or straight pipe."""

    tie_in_id: int
    mark: str
    shots_a: tuple[Vector, ...]
    shots_b: tuple[Vector, ...]
    made: SurveyedTieIn

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the survey noticed."""
        return self.made.findings


@dataclass(slots=True)
class _Shots:
    """The lines of one tie-in as they come."""

    row: Row
    lines: list[int] = field(default_factory=list)
    axes: dict[str, list[Vector]] = field(default_factory=lambda: {"A": [], "B": []})


def check_shots(table: Table, *, tie_ins: Mapping[str, int], unit: str) -> Checked[SurveyLine]:
    """Check every shot, then whether the shots of each tie-in give its two axes.

    A tie-in with a bad shot is bad as a whole: its other shots stand in no line without it.
    """
    bad: list[BadRow] = []
    found: dict[str, _Shots] = {}
    spoiled: set[str] = set()
    for row in table.rows:
        problems = Problems()
        key = _key(row, tie_ins, problems)
        axis = row.text("axis").upper()
        if axis not in ("A", "B"):
            problems.say("axis", "Write A for the axis at the main, B for the drain's.")
        point = [_number(row, name, unit, problems) for name in ("x", "y", "z")]
        if problems:
            bad.append(problems.of(row, row.text("mark")))
            spoiled.add(key)
            continue
        shots = found.setdefault(key, _Shots(row))
        shots.lines.append(row.line)
        shots.axes[axis].append((point[0], point[1], point[2]))
    good = []
    for key, shots in found.items():
        problems = Problems()
        line = None if key in spoiled else _line(shots, tie_ins[key], problems)
        if key in spoiled:
            problems.say("mark", "Another shot of this tie-in is bad: mend it, then bring all of them.")
        if line is None:
            bad.append(problems.of(shots.row, shots.row.text("mark")))
        else:
            good.append(GoodRow(shots.row.line, shots.row, line, _remark(line.made), tuple(shots.lines)))
    return Checked(tuple(good), tuple(sorted(bad, key=lambda one: one.line)))


def _key(row: Row, tie_ins: Mapping[str, int], problems: Problems) -> str:
    try:
        key = mark_key(row.text("mark"))
    except ShopError as refusal:
        problems.say("mark", refusal.fields.get("mark", str(refusal)))
        return ""
    if key not in tie_ins:
        problems.say("mark", f'There is no tie-in "{row.text("mark")[:20]}" on this job: add it first.')
    return key


def _number(row: Row, name: str, unit: str, problems: Problems) -> float:
    text = row.text(name)
    if not NUMBER.fullmatch(text):
        problems.say(name, f'Write a plain number such as 1234.567, not "{text[:20]}".')
        return 0.0
    return float(text) * UNIT_MM[unit]


def _line(shots: _Shots, tie_in_id: int, problems: Problems) -> SurveyLine | None:
    axes = []
    for name, points in shots.axes.items():
        try:
            axes.append(axis_from_shots(points))
        except SurveyError as refusal:
            problems.say("axis", f"Axis {name}: {refusal}")
    if problems:
        return None
    return SurveyLine(
        tie_in_id=tie_in_id,
        mark=shots.row.text("mark"),
        shots_a=tuple(shots.axes["A"]),
        shots_b=tuple(shots.axes["B"]),
        made=tie_in_from_axes(axes[0], axes[1], joints_take_mm=JOINTS_TAKE_MM),
    )


def _remark(made: SurveyedTieIn) -> str:
    if made.make == "two_bends":
        return "two bends: laid out for the foreman, who chooses"
    if made.make == "straight":
        return "straight pipe"
    return f"one bend, turns {made.turn_deg:.1f} degrees"
