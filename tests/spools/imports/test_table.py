"""Lists come in from CSV and XLSX alike; a file that is no list, or unpacks to a flood, is refused in words."""

import io
import time
import zipfile

import pytest
import tablib

from spools.imports.table import ImportRefused, read_table

KNOWN = {"mark": "mark", "station": "station", "tie in": "mark"}
SHEET = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def packed(**members: str) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as made:
        for name, text in members.items():
            made.writestr(name, text)
    return file.getvalue()


def one_sheet(rows: str) -> bytes:
    return packed(**{"xl/worksheets/sheet1.xml": f"<worksheet {SHEET}><sheetData>{rows}</sheetData></worksheet>"})


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_any_usual_separator_is_understood(between):
    table = read_table(f"Mark{between}Station\n214{between}12+40\n".encode(), known=KNOWN)
    assert table.rows[0].cells == {"mark": "214", "station": "12+40"}
    assert table.rows[0].line == 2


def test_a_workbook_reads_as_the_same_list():
    data = tablib.Dataset(headers=["Mark", "Station"])
    data.append(["0214", "12+40"])
    data.append([215, 40.3125])
    table = read_table(data.export("xlsx"), known=KNOWN)
    assert [row.cells for row in table.rows] == [
        {"mark": "0214", "station": "12+40"},
        {"mark": "215", "station": "40.3125"},
    ]


def test_texts_inside_cells_and_gaps_between_them_are_kept_in_place():
    rows = '<row r="1"><c r="A1" t="inlineStr"><is><t>mark</t></is></c><c r="C1" t="str"><v>station</v></c></row>'
    rows += '<row r="7"><c r="C7"><v>1240.5000000000001</v></c></row>'
    table = read_table(one_sheet(rows), known=KNOWN)
    assert (table.rows[0].line, table.rows[0].cells) == (7, {"mark": "", "station": "1240.5"})


def test_empty_lines_and_a_byte_order_mark_are_passed_over():
    table = read_table("\ufeffmark\n\n214\n,,\n215\n".encode(), known=KNOWN)
    assert [row.text("mark") for row in table.rows] == ["214", "215"]


def test_letters_of_an_old_code_page_come_through():
    assert read_table("mark\n214 é\n".encode("cp1252"), known=KNOWN).rows[0].text("mark") == "214 é"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"name,where\n1,2\n", "None of the headings"),
        (b"mark,tie in\n1,2\n", "Two columns"),
        (b"mark\n\0\n", "neither CSV nor XLSX"),
        (b"mark\n" + b"x" * 401, "401 characters"),
        (b"mark\n" + b"1\n" * 10_001, "More than 10,000 lines"),
        (b"PK\x03\x04 nonsense", "can't be read"),
        (b"x" * 5_000_001, "larger than 5 MB"),
        (packed(**{"readme.txt": "hello"}), "no sheet"),
        (packed(**{"xl/worksheets/sheet1.xml": "<open>"}), "can't be read"),
    ],
)
def test_what_is_no_list_is_refused_in_words(content, words):
    with pytest.raises(ImportRefused, match=words):
        read_table(content, known=KNOWN)


def test_a_small_file_that_unpacks_to_66_mb_is_refused_at_once():
    bomb = packed(**{"xl/worksheets/sheet1.xml": "<a>" + "x" * 66_000_000})
    assert len(bomb) < 200_000
    began = time.process_time()
    with pytest.raises(ImportRefused, match="far more than a list"):
        read_table(bomb, known=KNOWN)
    assert time.process_time() - began < 1.0


def test_entities_that_grow_are_refused_before_they_do():
    entities = '<!DOCTYPE z [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>'
    with pytest.raises(ImportRefused, match="more than a list"):
        read_table(packed(**{"xl/worksheets/sheet1.xml": f"{entities}<z>&b;</z>"}), known=KNOWN)
