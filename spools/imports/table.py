"""A list from a CSV or XLSX file as plain texts, read within limits that no file can lift."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

from spools.imports.workbook import XLSX_START, NotAWorkbook, workbook_rows

MOST_BYTES = 5_000_000
MOST_ROWS = 10_000
MOST_COLUMNS = 60
LONGEST_CELL = 400


class ImportRefused(ValueError):
    """A file that can't be read as a list; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the file, by heading; ``line`` is counted as a spreadsheet counts, the heading being line 1."""

    line: int
    cells: dict[str, str]

    def text(self, name: str) -> str:
        """Return a cell without blanks around it, empty where there is none."""
        return self.cells.get(name, "").strip()


@dataclass(frozen=True, slots=True)
class Table:
    """The headings as they stand in the file, and all lines that hold anything."""

    headings: tuple[str, ...]
    rows: tuple[Row, ...]


def read_table(content: bytes, *, known: dict[str, str]) -> Table:
    """Read a list; ``known`` maps headings in plain lower case to the names they are read under.

    Headings that aren't known are left out, so that a list may hold more than is asked for.
    Raises ImportRefused for a file that is too large, is no list, or has none of the headings.
    """
    if len(content) > MOST_BYTES:
        raise ImportRefused(f"The file is larger than {MOST_BYTES // 1_000_000} MB: bring it in parts.")
    lines = _workbook(content) if content.startswith(XLSX_START) else _csv(content)
    heading: list[str] | None = None
    rows: list[Row] = []
    for line, cells in lines:
        if not any(cell.strip() for cell in cells):
            continue
        if heading is None:
            heading = cells
            names = _names(cells, known)
            continue
        if len(rows) == MOST_ROWS:
            raise ImportRefused(f"More than {MOST_ROWS:,} lines: bring them in parts.")
        rows.append(Row(line, {name: cells[place] for place, name in names.items() if place < len(cells)}))
    if heading is None:
        raise ImportRefused("The file is empty: its first line holds the headings, then one line for each thing.")
    return Table(tuple(heading), tuple(rows))


def plain_heading(text: str) -> str:
    """Return a heading as it is compared: lower case, one blank for anything that isn't a letter or a digit.

    >>> plain_heading(" Station_FT "), plain_heading("End (main)")
    ('station ft', 'end main')
    """
    return " ".join("".join(sign if sign.isalnum() else " " for sign in text.lower()).split())


def _names(heading: list[str], known: dict[str, str]) -> dict[int, str]:
    if len(heading) > MOST_COLUMNS:
        raise ImportRefused(f"More than {MOST_COLUMNS} columns: keep those that are asked for.")
    names = {place: known[plain] for place, text in enumerate(heading) if (plain := plain_heading(text)) in known}
    twice = [name for name in set(names.values()) if list(names.values()).count(name) > 1]
    if twice:
        raise ImportRefused(f"Two columns are both {twice[0]}: keep one of them.")
    if not names:
        raise ImportRefused(f"None of the headings is known. The first line must hold some of: {', '.join(known)}.")
    return names


def _csv(content: bytes) -> Iterable[tuple[int, list[str]]]:
    if b"\0" in content:
        raise ImportRefused("This is neither CSV nor XLSX: save it as one of these.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    first = text.split("\n", 1)[0]
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=first.count))
    try:
        for cells in reader:
            yield reader.line_num, [_short(cell, reader.line_num) for cell in cells]
    except csv.Error as wrong:
        raise ImportRefused(f"Line {reader.line_num} can't be read ({wrong}): save the list again as CSV.") from wrong


def _workbook(content: bytes) -> Iterable[tuple[int, list[str]]]:
    try:
        for line, cells in workbook_rows(content, most_columns=MOST_COLUMNS + 1):
            yield line, [_short(cell, line) for cell in cells]
    except NotAWorkbook as wrong:
        raise ImportRefused(str(wrong)) from wrong


def _short(cell: str, line: int) -> str:
    if len(cell) > LONGEST_CELL:
        raise ImportRefused(f"Line {line} holds a cell of {len(cell)} characters: no cell here is that long.")
    return cell
