"""The first sheet of an XLSX file as texts, row by row, without ever holding more than its limits.

A small file can unpack to gigabytes, so the directory is looked at first (OWASP ASVS 5, 5.2.3) and the sheet is read as
a stream; a member never gives more bytes than the directory said.
"""

import io
import re
import zipfile
from collections.abc import Iterator
from typing import IO, cast
from xml.etree.ElementTree import Element, ParseError, XMLPullParser

XLSX_START = b"PK\x03\x04"
MOST_UNPACKED = 20_000_000
MOST_RATIO = 100
MOST_MEMBERS = 1000
MOST_STRINGS = 100_000
CHUNK = 65_536
SPREADSHEET = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
STRINGS = "xl/sharedStrings.xml"
SHEET = re.compile(r"xl/worksheets/sheet([0-9]{1,4})\.xml")
REFERENCE = re.compile(r"([A-Z]{1,3})[0-9]{1,7}")


class NotAWorkbook(ValueError):
    """A file that can't be read as a workbook, or that is not safe to unpack; the message says what to do."""


def workbook_rows(content: bytes, *, most_columns: int) -> Iterator[tuple[int, list[str]]]:
    """Yield line number and cells of the first sheet. Numbers come as they are stored, dates as day numbers.

    Raises NotAWorkbook.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            names = _checked(packed)
            strings = _strings(packed) if STRINGS in names else []
            sheets = sorted((int(found[1]), name) for name in names if (found := SHEET.fullmatch(name)))
            if not sheets:
                raise NotAWorkbook("There is no sheet in this file: save the list as XLSX or CSV.")
            with packed.open(sheets[0][1]) as sheet:
                yield from _rows(sheet, strings, most_columns)
    except (zipfile.BadZipFile, ParseError, OSError, NotImplementedError, RuntimeError, EOFError) as wrong:
        raise NotAWorkbook("This XLSX file can't be read: save the list again, or as CSV.") from wrong


def _checked(packed: zipfile.ZipFile) -> set[str]:
    """Look at the directory alone, before anything is unpacked."""
    members = packed.infolist()
    unpacked = sum(member.file_size for member in members)
    stored = sum(member.compress_size for member in members)
    if len(members) > MOST_MEMBERS or unpacked > MOST_UNPACKED or unpacked > MOST_RATIO * max(stored, 1):
        raise NotAWorkbook("This file unpacks to far more than a list holds: save the list as CSV.")
    return {member.filename for member in members}


def _ended(stream: IO[bytes], tag: str) -> Iterator[Element]:
    """Yield each element of a name once it is whole, and let go of it; a document type is refused."""
    parser: XMLPullParser[Element] = XMLPullParser(("start", "end"))
    around: list[Element] = []
    before = b""
    while chunk := stream.read(CHUNK):
        if b"<!DOCTYPE" in before + chunk:
            raise NotAWorkbook("This file holds more than a list: save it again as CSV.")
        before = chunk[-len(b"<!DOCTYPE") :]
        parser.feed(chunk)
        for event, element in cast("Iterator[tuple[str, Element]]", parser.read_events()):
            if event == "start":
                around.append(element)
                continue
            around.pop()
            if element.tag == SPREADSHEET + tag:
                yield element
                if around:
                    around[-1].remove(element)
    parser.close()


def _strings(packed: zipfile.ZipFile) -> list[str]:
    found: list[str] = []
    with packed.open(STRINGS) as stream:
        for item in _ended(stream, "si"):
            found.append(_text(item))
            if len(found) > MOST_STRINGS:
                raise NotAWorkbook("This file holds too many texts for a list: save it as CSV.")
    return found


def _text(element: Element) -> str:
    """Return the text of a string, runs of several looks joined; reading aids beside it are left out."""
    runs = (element, *element.findall(f"{SPREADSHEET}r"))
    return "".join(text.text or "" for run in runs for text in run.findall(f"{SPREADSHEET}t"))


def _rows(sheet: IO[bytes], strings: list[str], most_columns: int) -> Iterator[tuple[int, list[str]]]:
    line = 0
    for row in _ended(sheet, "row"):
        number = row.get("r", "")
        line = int(number) if number.isascii() and number.isdigit() and len(number) < 8 else line + 1
        cells: list[str] = []
        for cell in row:
            place = _column(cell.get("r", ""), len(cells))
            if place >= most_columns:
                break
            cells += [""] * (place - len(cells) + 1)
            cells[place] = _cell(cell, strings)
        yield line, cells


def _column(reference: str, usual: int) -> int:
    """Return the place of a cell, A being 0."""
    found = REFERENCE.fullmatch(reference)
    if found is None:
        return usual
    place = 0
    for letter in found[1]:
        place = place * 26 + ord(letter) - ord("A") + 1
    return place - 1


def _cell(cell: Element, strings: list[str]) -> str:
    kind = cell.get("t", "n")
    if kind == "inlineStr":
        inside = cell.find(f"{SPREADSHEET}is")
        return "" if inside is None else _text(inside)
    value = cell.find(f"{SPREADSHEET}v")
    text = (value.text or "") if value is not None else ""
    if kind == "s":
        return strings[int(text)] if text.isascii() and text.isdigit() and int(text) < len(strings) else ""
    if kind == "n":
        return _number(text)
    return "" if kind == "e" else text


def _number(text: str) -> str:
    """Return a stored number as a person would write it: 214 for 214.0, 40.3125 for 40.312500000000002."""
    try:
        return format(float(text), ".15g") if text and len(text) < 40 else text
    except ValueError:
        return text
