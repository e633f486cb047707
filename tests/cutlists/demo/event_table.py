"""The event table as a stranger reads it: plain columns, no fold, no projection, none of the words' code."""

import json
import re
from datetime import UTC, datetime
from random import Random
from typing import Any

from django.db import connection
from django.test import Client
from django.utils.html import strip_tags

# What the floor calls an event whose code is not the word itself.
SAID = {
    "back": "back from coating",
    "at_coating": "at coating",
    "tagged": "steel tag bound",
    "rushed": "rush",
    "held": "put on hold",
    "let_go": "hold let go",
    "put_on_bench": "put on bench",
    "missing": "not back from coating",
    "turned_up": "turned up again",
    "misfit": "does not fit",
    "wrong_cut": "wrong cut",
    "weld_by": "weld put down",
    "heat_corrected": "heat put right",
    "damaged": "damaged on the way",
    "coating_bad": "coating rejected",
}


def told(sql: str, *values: object) -> list[tuple[Any, ...]]:
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        return cursor.fetchall()


def moment(value: object) -> datetime:
    found = value if isinstance(value, datetime) else datetime.fromisoformat(str(value))
    return found if found.tzinfo else found.replace(tzinfo=UTC)


def parsed(value: object) -> object:
    return json.loads(value) if isinstance(value, str) else value


def last_sight(spool: int) -> tuple[str, datetime, str]:
    """The newest event of a spool that stands: it is no undo, and no undo names it."""
    rows = told(
        "SELECT e.number, e.code, e.done_at, e.details, p.last_name FROM spools_event e"
        " JOIN spools_person p ON p.id = e.person_id WHERE e.spool_id = %s ORDER BY e.number DESC",
        spool,
    )
    undone = {parsed(details)["undoes_number"] for _, code, _, details, _ in rows if code == "undone"}
    code, at, who = next(
        (code, moment(at), who) for number, code, at, _, who in rows if code != "undone" and number not in undone
    )
    return code, at, who


def open_hold(spool: int) -> str:
    """The reason of the newest hold that nobody let go."""
    rows = told("SELECT number, code, reason, details FROM spools_event WHERE spool_id = %s ORDER BY number", spool)
    undone = {parsed(details)["undoes_number"] for _, code, _, details in rows if code == "undone"}
    let_go = {parsed(details)["hold"] for n, code, _, details in rows if code == "let_go" and n not in undone}
    held = [reason for n, code, reason, _ in rows if code == "held" and n not in undone | let_go]
    return held[-1] if held else ""


def sentence_of(client: Client, words: str, label: str) -> str:
    """The sentence that the find box leads to, by one request and where it sends."""
    page = client.get("/find/", {"q": words}, follow=True)
    assert page.status_code == 200
    text = " ".join(strip_tags(page.content.decode()).split()).replace("&#x27;", "'")
    found = re.search(rf"(?<![\w-]){re.escape(label)}: .*?\.(?= |$)", text)
    assert found, f"no sentence of {label} for {words}"
    return found[0]


def questions(count: int, *, seed: int) -> list[tuple[int, str, str]]:
    """Return spools with what is asked (mark, steel tag where one hangs, or station) and what they are called."""
    rows = told(
        "SELECT s.id, t.mark, s.tag, s.build, t.station_mm FROM spools_spool s"
        " JOIN spools_tiein t ON t.id = s.tie_in_id WHERE s.live ORDER BY s.id"
    )
    found = []
    for number, (spool, mark, tag, build, station_mm) in enumerate(Random(seed).sample(rows, count)):
        feet = round(station_mm / 304.8)
        station = f"{feet // 100}+{feet % 100:02}"
        asked = (mark, tag or mark, station)[number % 3]
        found.append((spool, asked, mark if build == 1 else f"{mark} {'ABCDEF'[build - 1]}"))
    return found
