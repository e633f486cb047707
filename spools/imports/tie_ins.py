"""A list of tie-ins, checked line by line before any of it is saved."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from geometry.angles import AngleError, parse_angle
from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS, MEASURED_TO, REFERENCE_WORDS
from geometry.tables import UnknownPipe, pipe
from spools.errors import ShopError
from spools.imports.checked import BadRow, Checked, GoodRow, Problems
from spools.imports.table import Row, Table
from spools.marks import mark_key
from spools.tie_in_values import NewTieIn
from spools.typed_stations import StationError, read_station_mm

HEADINGS = {
    "mark": "mark",
    "tie in": "mark",
    "main": "main",
    "station": "station",
    "station ft": "station_ft",
    "side": "side",
    "nps": "nps",
    "size": "nps",
    "schedule": "schedule",
    "sch": "schedule",
    "material": "material",
    "end a": "end_a",
    "end at main": "end_a",
    "end at the main": "end_a",
    "end b": "end_b",
    "end at drain": "end_b",
    "end at the drain": "end_b",
    "measured to a": "measured_to_a",
    "measured to b": "measured_to_b",
    "bend": "bend",
    "make up": "bend",
    "design included": "design",
    "needed on": "needed_on",
    "note": "note",
}
SIDES = {"left": "left", "l": "left", "right": "right", "r": "right"}
FIRST_DAY = date(1899, 12, 30)  # a spreadsheet counts days from here
DEFAULTS = {"schedule": "40", "material": "A53 B", "end_a": "beveled", "end_b": "grooved"}
LONGEST = {"material": 30, "note": 200, "schedule": 8, "nps": 8}
FOOT_MM = 304.8


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownJob:
    """What a job holds already: units, mains by name, marks with where they are, pipe specs by NPS."""

    units: str
    mains: Mapping[str, int]
    marks: Mapping[str, str]
    usual: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TieInLine:
    """One tie-in to add, on which main."""

    main_id: int
    key: str
    new: NewTieIn


def check_tie_ins(table: Table, job: KnownJob) -> Checked[TieInLine]:
    """Check every line; a mark that stands twice is bad the second time."""
    good: list[GoodRow[TieInLine]] = []
    bad: list[BadRow] = []
    seen: dict[str, int] = {}
    for row in table.rows:
        problems = Problems()
        line = _line(row, job, seen, problems)
        if problems or line is None:
            bad.append(problems.of(row, row.text("mark")))
        else:
            seen[line.key] = row.line
            good.append(GoodRow(row.line, row, line))
    return Checked(tuple(good), tuple(bad))


def _line(row: Row, job: KnownJob, seen: dict[str, int], problems: Problems) -> TieInLine | None:
    key = _mark(row, job, seen, problems)
    main_id = _main(row, job, problems)
    spec = job.usual.get(row.text("nps"), {})
    values: dict[str, Any] = {name: row.text(name) or spec.get(name, usual) for name, usual in DEFAULTS.items()}
    for name, most in LONGEST.items():
        if len(row.text(name)) > most:
            problems.say(name, f"At most {most} characters.")
    _check_pipe(row.text("nps"), values["schedule"], problems)
    for side in ("a", "b"):
        values |= _end(row, side, values[f"end_{side}"], problems)
    station_mm = _station(row, job.units, problems)
    new = NewTieIn(
        mark=row.text("mark"),
        station_mm=station_mm,
        side=_side(row, problems),
        nps=row.text("nps"),
        bend_kind=_bend(row, spec.get("bend_kind", "trimmed_elbow"), problems),
        design_included_deg=_design(row, problems),
        needed_on=_day(row, problems),
        note=row.text("note"),
        **values,
    )
    return TieInLine(main_id, key, new) if key and main_id else None


def _mark(row: Row, job: KnownJob, seen: dict[str, int], problems: Problems) -> str:
    try:
        key = mark_key(row.text("mark"))
    except ShopError as refusal:
        problems.say("mark", refusal.fields.get("mark", str(refusal)))
        return ""
    if key in seen:
        problems.say("mark", f"{row.text('mark')} stands on line {seen[key]} already: choose another mark.")
    elif key in job.marks:
        problems.say("mark", f"{row.text('mark')} is already on {job.marks[key]}: leave it out or choose another mark.")
    return key


def _main(row: Row, job: KnownJob, problems: Problems) -> int:
    name = row.text("main")
    if not name and len(job.mains) == 1:
        return next(iter(job.mains.values()))
    found = job.mains.get(name.casefold())
    if found is None:
        known = ", ".join(job.mains) or "none yet: add one to the job first"
        problems.say("main", f'There is no main "{name[:40]}" on this job. Known: {known}.')
    return found or 0


def _station(row: Row, units: str, problems: Problems) -> float:
    in_feet = row.text("station_ft")
    text = f"{in_feet} ft" if in_feet and not row.text("station") else row.text("station")
    if not text:
        problems.say("station", "Write the station, such as 12+40.")
        return 0.0
    try:
        return read_station_mm(text, units)
    except StationError as refusal:
        problems.say("station", str(refusal))
        return 0.0


def _side(row: Row, problems: Problems) -> str:
    side = SIDES.get(row.text("side").casefold(), "")
    if not side:
        problems.say("side", "Write left or right, looking up station.")
    return side


def _check_pipe(nps: str, schedule: str, problems: Problems) -> None:
    if not nps:
        problems.say("nps", "Write the nominal size, such as 6.")
        return
    try:
        pipe(nps, schedule)
    except UnknownPipe as refusal:
        problems.say("nps", str(refusal))


def _end(row: Row, side: str, code: str, problems: Problems) -> dict[str, str]:
    """Return an end and its reference; without a reference the first that the end takes."""
    plain = code.casefold().replace(" ", "_").replace("-", "_")
    prep = next((prep for prep in END_PREPS if plain in (prep.code, prep.word.replace(" ", "_"))), None)
    if prep is None:
        known = ", ".join(prep.code for prep in END_PREPS)
        problems.say(f"end_{side}", f'No end "{code[:30]}": choose from {known}.')
        return {}
    text = row.text(f"measured_to_{side}").casefold()
    words = {REFERENCE_WORDS[reference]: reference for reference in MEASURED_TO}
    reference = words.get(text, text.replace(" ", "_")) or prep.measured_to[0]
    if reference not in prep.measured_to:
        problems.say(f"measured_to_{side}", f"A {prep.word} end is measured to {' or '.join(prep.measured_to)}.")
    return {f"end_{side}": prep.code, f"measured_to_{side}": reference}


def _bend(row: Row, usual: str, problems: Problems) -> str:
    text = row.text("bend").casefold().replace(" ", "_")
    if not text:
        return usual
    found = next((kind.code for kind in MAKE_UPS if text in (kind.code, kind.word.replace(" ", "_"))), "")
    if not found:
        problems.say("bend", f"Choose from {', '.join(kind.code for kind in MAKE_UPS)}.")
    return found


def _design(row: Row, problems: Problems) -> float | None:
    text = row.text("design")
    try:
        return parse_angle(text) if text else None
    except AngleError as refusal:
        problems.say("design", str(refusal))
        return None


def _day(row: Row, problems: Problems) -> date | None:
    """Read 2026-12-18, or the day number that a spreadsheet keeps a date as."""
    text = row.text("needed_on")
    if not text:
        return None
    try:
        if text.isascii() and text.isdigit() and 20_000 < int(text) < 80_000:
            return FIRST_DAY + timedelta(days=int(text))
        return date.fromisoformat(text[:10])
    except ValueError:
        problems.say("needed_on", "Write the day as 2026-12-18.")
        return None
