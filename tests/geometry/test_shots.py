"""A file of survey shots."""

import pytest

from geometry.axes import SurveyError
from geometry.shots import read_shots

GOOD = """mark,axis,x,y,z
T-1,A,0,0,0
T-1,A,1,0,0
T-1,B,9,5,0
T-1,B,9,4,0
T-2,A,0,0,0
T-2,A,2,0,0
T-2,B,9,5,0
T-2,B,9,4,0
"""


def test_shots_are_grouped_by_mark_and_axis():
    ports = read_shots(GOOD, unit="m")
    assert [one.mark for one in ports] == ["T-1", "T-2"]
    assert ports[0].shots_a == ((0.0, 0.0, 0.0), (1000.0, 0.0, 0.0))


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1.0), ("m", 1000.0), ("in", 25.4), ("ft", 304.8)])
def test_the_unit_is_that_of_the_file(unit, mm):
    assert read_shots(GOOD, unit=unit)[0].shots_a[1][0] == pytest.approx(mm)


@pytest.mark.parametrize("between", [";", "\t"])
def test_semicolons_and_tabs_are_read_too(between):
    assert read_shots(GOOD.replace(",", between), unit="m") == read_shots(GOOD, unit="m")


def test_a_byte_order_mark_and_windows_lines_are_no_harm():
    assert read_shots("\ufeff" + GOOD.replace("\n", "\r\n"), unit="m") == read_shots(GOOD, unit="m")


@pytest.mark.parametrize(
    "number", ["inf", "nan", "1_000", "１２", "1e400", "1E+05", "", "1,5", "0x10", "9" * 400, "=1+1", "--1", "1.2.3"]
)
def test_what_is_not_a_plain_number_is_refused_with_its_line(number):
    text = f'axis;x;y;z\nA;"{number}";0;0\nA;1;0;0\nB;9;5;0\nB;9;4;0\n'
    with pytest.raises(SurveyError, match="Line 2"):
        read_shots(text, unit="m")


def test_next_to_nothing_is_read_as_a_spreadsheet_writes_it():
    text = "axis,x,y,z\nA,0,-1.8E-15,0\nA,1,0,0\nB,9,5.123456789012345,0\nB,9,4,0\n"
    ports = read_shots(text, unit="mm")[0]
    assert ports.shots_a[0][1] == -1.8e-15
    assert ports.shots_b[0][1] == 5.123456789012345


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "No shots"),
        ("axis,x,y\nA,1,2\n", "lacks z"),
        ("axis,x,y,z\nC,1,2,3\n", "A or B"),
        ("axis,x,y,z\nA,1,2\n", "z is missing"),
        ("axis,x,y,z\nA,1,2,3\nA,2,2,3\nB,1,2,3\n", "two at least"),
        ("axis,x,y,z\n", "No shots"),
    ],
)
def test_what_is_missing_is_said(text, words):
    with pytest.raises(SurveyError, match=words):
        read_shots(text, unit="m")


def test_the_unit_must_be_said():
    with pytest.raises(SurveyError, match="unit"):
        read_shots(GOOD, unit="yd")


def test_a_huge_file_is_refused():
    with pytest.raises(SurveyError, match="too long"):
        read_shots("axis,x,y,z\n" + "A,0,0,0\n" * 300_000, unit="m")
