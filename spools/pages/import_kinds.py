"""The three kinds of lists that can be brought in: how each is checked, shown and saved."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from geometry.findings import has_errors
from spools.actions.add_tie_ins import add_tie_ins
from spools.actions.bring_readings import bring_readings
from spools.actions.bring_shots import bring_shots
from spools.errors import ShopError
from spools.imports import readings, shots, tie_ins
from spools.imports.checked import BadRow, Checked, GoodRow
from spools.imports.readings import ReadingLine
from spools.imports.table import Table
from spools.models import Job, Person, SetPoints, TieIn
from spools.queries.imports import known_job, known_tie_ins, tie_in_ids
from spools.solving import Typed, judge, understand
from spools.survey_plans import say_joined

UNITS = (("mm", "millimeters"), ("m", "meters"), ("in", "inches"), ("ft", "feet"))


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportKind:
    """One kind: its words, the headings it knows, the check of a whole table, and the deed that saves the good lines.

    ``most`` is how many lines are taken at once.
    """

    code: str
    words: str
    sample: str
    headings: dict[str, str]
    check: Callable[[Table, Job, str], Checked[Any]]
    save: Callable[[Checked[Any], Job, Person, str, datetime], str]
    has_unit: bool = False
    most: int = 10_000


def _check_tie_ins(table: Table, job: Job, unit: str) -> Checked[Any]:
    return tie_ins.check_tie_ins(table, known_job(job))


def _save_tie_ins(checked: Checked[Any], job: Job, person: Person, key: str, at: datetime) -> str:
    added = add_tie_ins(job_id=job.id, lines=[line.value for line in checked.good], person=person)
    return f"{added} tie-ins are here, to be measured."


def _check_readings(table: Table, job: Job, unit: str) -> Checked[Any]:
    """Check marks and jigs, then read and judge the numbers as the shop does at the tie-in."""
    checked = readings.check_readings(table, known_tie_ins(job))
    rows = TieIn.objects.select_related("job").in_bulk([line.value.tie_in_id for line in checked.good])
    points = SetPoints.objects.in_bulk([line.value.set_points_id for line in checked.good])
    good: list[GoodRow[ReadingLine]] = []
    bad = list(checked.bad)
    for line in checked.good:
        value = line.value
        tie_in, set_points, typed = rows[value.tie_in_id], points[value.set_points_id], Typed(**value.typed)
        try:
            understood = understand(typed, units=job.units, set_points=set_points)
        except ShopError as refusal:
            bad.append(BadRow(line.line, tie_in.mark, tuple(refusal.fields.items())))
            continue
        ends = (typed.measured_to_a or tie_in.measured_to_a, typed.measured_to_b or tie_in.measured_to_b)
        judged = judge(tie_in, understood, set_points=set_points, ends=ends)
        why = next((f.text for f in judged.findings if f.level != "caution"), "") or "does not close"
        remark = "closes: its spool is released" if judged.closes else f"kept for the foreman: {why}"
        good.append(GoodRow(line.line, line.row, value, remark if not has_errors(judged.findings) else f"! {remark}"))
    return Checked(tuple(good), tuple(sorted(bad, key=lambda row: row.line)))


def _save_readings(checked: Checked[Any], job: Job, person: Person, key: str, at: datetime) -> str:
    brought = bring_readings(lines=checked.good, person=person, key=key, at=at)
    return f"{brought.kept} readings are kept, {brought.released} of them released as spools."


def _check_shots(table: Table, job: Job, unit: str) -> Checked[Any]:
    checked = shots.check_shots(table, tie_ins=tie_in_ids(job), unit=unit)
    ids = [line.value.tie_in_id for line in checked.good]
    places = TieIn.objects.filter(job=job).select_related("job", "main").in_bulk(ids)
    told = (say_joined(line.value, places[line.value.tie_in_id]) for line in checked.good)
    good = (replace(line, remark=words or line.remark) for line, words in zip(checked.good, told, strict=True))
    return replace(checked, good=tuple(good))


def _save_shots(checked: Checked[Any], job: Job, person: Person, key: str, at: datetime) -> str:
    brought = bring_shots(lines=checked.good, person=person, key=key, at=at)
    left = brought.kept - brought.released
    said = f"{brought.kept} surveys are kept; {brought.released} readings wait for the foreman."
    return said + (f" {left} can't be joined as their tie-ins are made now: no reading." if left else "")


KINDS: tuple[ImportKind, ...] = (
    ImportKind(
        code="tie-ins",
        words="Tie-ins",
        sample="mark, main, station, side, nps, schedule, end at main, end at drain, note",
        headings=tie_ins.HEADINGS,
        check=_check_tie_ins,
        save=_save_tie_ins,
    ),
    ImportKind(
        code="readings",
        words="Readings",
        sample="mark, jig, leg a, leg b, included, c, hand, taken at, note",
        headings=readings.HEADINGS,
        check=_check_readings,
        save=_save_readings,
        most=500,
    ),
    ImportKind(
        code="shots",
        words="Survey shots",
        sample="mark, axis, x, y, z (A at the main, B at the drain; shots toward the spool, the last where it ends)",
        headings=shots.HEADINGS,
        check=_check_shots,
        save=_save_shots,
        has_unit=True,
        most=3_000,
    ),
)
BY_CODE = {kind.code: kind for kind in KINDS}
