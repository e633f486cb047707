"""Bytes to one JSON object or to the rows of a CSV file, refusing in one line what is neither."""

import csv
import io
import json
from collections.abc import Iterator
from typing import Any, NoReturn

from geometry.request.fields import RequestError

LONGEST_REQUEST = 16 * 1024 * 1024
NESTED = {"nps": "pipe", "schedule": "pipe"}
READINGS = frozenset(
    {"leg_a", "leg_b", "included_angle", "closing", "d", "e"}
    | {f"{name}{side}" for name in ("burn", "set_point") for side in ("", "_a", "_b")}
)
TOP = frozenset({"units", "root_gap", "graduation", "kerf", "material", "mark", "job", "station", "hand", "note"})
BEND = {"bend": "kind", "radius": "radius", "welds": "welds", "bend_radius": "bend_radius", "source": "source"}
END = ("prep", "measured_to", "field_trim", "coupling", "coupling_gap", "groover_straight", "flange_class")
NUMBERS = frozenset({"welds"})


def json_request(raw: bytes) -> dict[str, Any]:
    """Return the JSON object in some bytes.

    Raises:
        RequestError: not UTF-8, not JSON, no object, a key twice, NaN or Infinity, nested without end, or too long.

    """
    try:
        values = json.loads(_text(raw), parse_constant=_no_constant, object_pairs_hook=_no_twins)
    except json.JSONDecodeError as broken:
        raise RequestError(f"This isn't JSON: {broken.msg} at line {broken.lineno}, column {broken.colno}.") from broken
    except RecursionError as deep:
        raise RequestError("This JSON is nested too deep: no request needs more than four levels.") from deep
    except ValueError as number:
        if isinstance(number, RequestError):
            raise
        raise RequestError("This JSON holds a number that is too long to be a reading.") from number
    if not isinstance(values, dict):
        raise RequestError('A request is one JSON object in braces: {"pipe": ..., "readings": ...}.')
    return values


def csv_requests(raw: bytes) -> Iterator[tuple[int, dict[str, Any]]]:
    """Yield the line and the request of every row of a CSV file with a heading line.

    Columns are the request's own keys: nps, schedule, leg_a, leg_b, included_angle, burn, set_point, closing, d, e,
    bend, radius, welds, bend_radius, source, a_prep, a_measured_to, b_prep, b_measured_to, root_gap, units,
    graduation, kerf, material, mark. An empty cell is left out. A bare number in a cell is in the row's units.

    Raises:
        RequestError: not UTF-8, no heading, a column that no request has or that stands twice, a row too long.

    """
    reader = csv.reader(io.StringIO(_text(raw).lstrip("\ufeff"), newline=""), strict=True)
    try:
        heading = [name.strip().lower() for name in next(reader, [])]
        _check_heading(heading)
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if len(cells) > len(heading):
                raise RequestError(f"Line {reader.line_num} has {len(cells)} cells for {len(heading)} columns.")
            yield reader.line_num, _nested(dict(zip(heading, cells, strict=False)))
    except csv.Error as broken:
        raise RequestError(f"This isn't CSV: {broken} at line {reader.line_num}.") from broken


def _text(raw: bytes) -> str:
    if len(raw) > LONGEST_REQUEST:
        raise RequestError("This request is longer than 16 MB: send it in parts.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        raise RequestError(f"This isn't UTF-8 text: byte {broken.start} can't be read.") from broken


def _no_constant(name: str) -> NoReturn:
    raise RequestError(f"{name} is no number that can be measured.")


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    values = dict(pairs)
    if len(values) != len(pairs):
        twin = next(key for index, (key, _) in enumerate(pairs) if key in dict(pairs[:index]))
        raise RequestError(f'"{twin[:40]}" stands twice in one object: leave one out.')
    return values


def _check_heading(heading: list[str]) -> None:
    if not any(heading):
        raise RequestError("This CSV has no heading line: begin with nps,schedule,leg_a,leg_b,included_angle.")
    known = {*NESTED, *READINGS, *TOP, *BEND, *(f"{side}_{name}" for side in "ab" for name in END)}
    for name in heading:
        if name not in known:
            raise RequestError(f'No column "{name[:40]}": there are {", ".join(sorted(known))}.')
        if heading.count(name) > 1:
            raise RequestError(f'Column "{name}" stands twice: leave one out.')


def _nested(cells: dict[str, str]) -> dict[str, Any]:
    """Return a flat row as a request."""
    request: dict[str, Any] = {}
    for name, cell in cells.items():
        text = cell.strip()
        if not text:
            continue
        if name in NESTED:
            request.setdefault("pipe", {})[name] = text
        elif name in READINGS:
            request.setdefault("readings", {})[name] = _cell(text)
        elif name in BEND:
            request.setdefault("bend", {})[BEND[name]] = _cell(text) if name in {"welds", "bend_radius"} else text
        elif name in TOP:
            request[name] = _cell(text) if name in {"root_gap", "kerf"} else text
        else:
            side, _, key = name.partition("_")
            bare = key in {"field_trim", "coupling_gap", "groover_straight"}
            request.setdefault("ends", {}).setdefault(side, {})[key] = _cell(text) if bare else text
    return request


def _cell(text: str) -> float | str:
    """Return a bare decimal number as a number, so that the row's units hold; anything else as it is written."""
    digits = text.removeprefix("-")
    if digits.isascii() and digits.replace(".", "", 1).isdigit() and len(digits) <= 20:
        return float(text)
    return text
