"""A list of jig readings as they stood on paper, checked line by line before any of it is saved."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from spools.errors import ShopError
from spools.imports.checked import BadRow, Checked, GoodRow, Problems
from spools.imports.table import Row, Table
from spools.marks import mark_key

HEADINGS = {
    "mark": "mark",
    "tie in": "mark",
    "jig": "jig",
    "leg a": "leg_a",
    "a": "leg_a",
    "leg b": "leg_b",
    "b": "leg_b",
    "included": "included",
    "included angle": "included",
    "c": "closing",
    "closing": "closing",
    "d": "d",
    "e": "e",
    "burn a": "burn_a",
    "burn b": "burn_b",
    "measured to a": "measured_to_a",
    "measured to b": "measured_to_b",
    "hand": "hand",
    "up mark": "up_mark",
    "note": "note",
    "taken at": "taken_at",
    "taken": "taken_at",
}
TYPED = ("leg_a", "leg_b", "included", "closing", "d", "e", "burn_a", "burn_b")
SAID = ("measured_to_a", "measured_to_b", "hand", "up_mark", "note")
LONGEST = {"included": 20, "burn_a": 20, "burn_b": 20, "up_mark": 60, "note": 300}
HANDS = ("", "left", "right", "up", "down")


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownTieIns:
    """What the readings may be of: tie-ins by mark key with who measured them, jigs by serial, the shop's zone."""

    tie_ins: Mapping[str, int]
    measured: Mapping[str, str]
    jigs: Mapping[str, int]
    zone: ZoneInfo


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLine:
    """One reading to take: of which tie-in, with which set points, as typed, and when it was measured."""

    tie_in_id: int
    set_points_id: int
    typed: Mapping[str, str]
    taken_at: datetime | None


def check_readings(table: Table, known: KnownTieIns) -> Checked[ReadingLine]:
    """Check marks, jigs, words and times; whether the numbers can be read, the caller adds."""
    good: list[GoodRow[ReadingLine]] = []
    bad: list[BadRow] = []
    seen: dict[str, int] = {}
    for row in table.rows:
        problems = Problems()
        line = _line(row, known, seen, problems)
        if problems:
            bad.append(problems.of(row, row.text("mark")))
        else:
            good.append(GoodRow(row.line, row, line))
    return Checked(tuple(good), tuple(bad))


def _line(row: Row, known: KnownTieIns, seen: dict[str, int], problems: Problems) -> ReadingLine:
    tie_in_id = _tie_in(row, known, seen, problems)
    jig = row.text("jig") or (next(iter(known.jigs)) if len(known.jigs) == 1 else "")
    if jig not in known.jigs:
        problems.say("jig", f'There is no jig "{jig[:20]}". Known: {", ".join(known.jigs) or "none yet"}.')
    if row.text("hand").casefold() not in HANDS:
        problems.say("hand", "Write left, right, up or down, seen from the main.")
    for name in (*TYPED, *SAID):
        if len(row.text(name)) > LONGEST.get(name, 40):
            problems.say(name, f"At most {LONGEST.get(name, 40)} characters.")
    typed = {name: row.text(name) for name in (*TYPED, *SAID)}
    typed["hand"] = typed["hand"].casefold()
    return ReadingLine(
        tie_in_id=tie_in_id,
        set_points_id=known.jigs.get(jig, 0),
        typed=typed,
        taken_at=_taken_at(row, known.zone, problems),
    )


def _tie_in(row: Row, known: KnownTieIns, seen: dict[str, int], problems: Problems) -> int:
    try:
        key = mark_key(row.text("mark"))
    except ShopError as refusal:
        problems.say("mark", refusal.fields.get("mark", str(refusal)))
        return 0
    if key in seen:
        problems.say("mark", f"{row.text('mark')} stands on line {seen[key]} already: which of the two is right?")
    seen.setdefault(key, row.line)
    if key not in known.tie_ins:
        problems.say("mark", f'There is no tie-in "{row.text("mark")[:20]}" on this job: add it first.')
    elif key in known.measured:
        who = known.measured[key]
        problems.say("mark", f"{row.text('mark')} was measured by {who} already: enter it on its own page.")
    return known.tie_ins.get(key, 0)


def _taken_at(row: Row, zone: ZoneInfo, problems: Problems) -> datetime | None:
    text = row.text("taken_at")
    if not text:
        return None
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        problems.say("taken_at", "Write the time as 2026-11-24 09:40.")
        return None
    return at if at.tzinfo else at.replace(tzinfo=zone)
