"""Two readings of one tie-in side by side, with what each one's closing measure says: C is the arbiter."""

from dataclasses import dataclass

from spools.models import Reading
from spools.stored_readings import judge_stored

TYPED = (
    ("Leg A", "leg_a_text"),
    ("Leg B", "leg_b_text"),
    ("Included angle", "included_text"),
    ("Tape held at, leg A", "burn_a_text"),
    ("Tape held at, leg B", "burn_b_text"),
    ("Closing measure C", "closing_text"),
    ("Check measure D", "d_text"),
    ("Check measure E", "e_text"),
)


@dataclass(frozen=True, slots=True)
class Pair:
    """The first reading and the one taken to compare: what was typed in each, and whom C speaks for."""

    first: Reading
    second: Reading
    rows: tuple[tuple[str, str, str, bool], ...]
    arbiter: str
    differs: bool


def pair_of(reading: Reading) -> Pair | None:
    """Return a reading beside the first one where it was taken to compare (one query), else nothing."""
    if reading.second_of_id is None:
        return None
    first = Reading.objects.select_related("tie_in__job__shop", "taken_by", "set_points__jig").get(
        id=reading.second_of_id
    )
    texts = ((words, getattr(first, name), getattr(reading, name)) for words, name in TYPED)
    rows = tuple((words, one, other, one != other) for words, one, other in texts if one or other)
    differs = any(finding["code"] == "differs" for finding in reading.findings)
    return Pair(first, reading, rows, _arbiter(first, reading), differs)


def _arbiter(first: Reading, second: Reading) -> str:
    """Say which of the two its own closing measure bears out, where it tells them apart."""
    checked = {one.letter: _borne_out(one) for one in (first, second)}
    if None in checked.values():
        missing = " and ".join(letter for letter, held in checked.items() if held is None)
        return f"Reading {missing} has no closing measure C: C can't decide."
    right = [letter for letter, held in checked.items() if held]
    if len(right) == 1:
        wrong = next(letter for letter in checked if letter not in right)
        return f"C speaks for reading {right[0]}: it closes, {wrong} does not."
    return "Both close on their own C: measure a third time." if right else "Neither closes: measure again."


def _borne_out(reading: Reading) -> bool | None:
    report = judge_stored(reading).report
    return report.closes if report and report.checked else None
