"""Many readings at once: CSV in, JSON lines or CSV out."""

import csv
import io
import json

import pytest

from tests.geometry.requests import REQUEST, run


@pytest.fixture
def ask(monkeypatch, capsys):
    """Run the command on a request."""
    return lambda asked, *arguments: run(asked, *arguments, monkeypatch=monkeypatch, capsys=capsys)


def table(*rows):
    """Return a CSV of readings."""
    heading = (
        "mark,nps,schedule,leg_a,leg_b,included_angle,burn,set_point,closing,"
        "a_prep,a_measured_to,b_prep,b_measured_to,root_gap"
    )
    return "\n".join([heading, *rows]) + "\n"


GOOD = "214,4,40,3' 4-5/16,27 7/8,142,4,4,5' 4-5/8,grooved,pipe_end,beveled,pipe_end,3/32"


def test_a_csv_of_readings_gives_one_answer_a_line(ask):
    said = ask(table(GOOD, GOOD.replace("214", "215")), "--csv")
    answers = [json.loads(line) for line in said.out.splitlines()]
    assert (said.code, [answer["mark"] for answer in answers]) == (0, ["214", "215"])
    assert answers[0]["pieces"] == ask(REQUEST).answer["pieces"]


def test_a_row_that_cannot_be_read_keeps_no_other_from_being_worked(ask):
    said = ask(table(GOOD, GOOD.replace("27 7/8", "3-4"), GOOD), "--csv")
    answers = [json.loads(line) for line in said.out.splitlines()]
    assert said.code == 2
    assert [answer["buildable"] for answer in answers] == [True, False, True]
    assert said.err.startswith("Line 3: readings.leg_b:")
    assert "error" in answers[1]


def test_a_row_that_cannot_be_built_leaves_with_1(ask):
    assert ask(table(GOOD, GOOD.replace("142", "40")), "--csv").code == 1


def test_csv_out_is_one_piece_a_row(ask):
    said = ask(table(GOOD, GOOD.replace("142", "40")), "--as-csv")
    rows = list(csv.DictReader(io.StringIO(said.out)))
    assert [row["mark"] for row in rows] == ["214-A", "214-E", "214-B", "214"]
    assert rows[-1]["findings"].startswith("An included angle of 40")


def test_bare_numbers_in_a_csv_are_in_the_rows_units(ask):
    text = "units,nps,schedule,leg_a,leg_b,included_angle,a_prep,a_measured_to,b_prep,b_measured_to,root_gap\n"
    said = ask(text + "mm,4,40,1023.9375,708.025,142,grooved,pipe_end,beveled,pipe_end,2.38125\n", "--csv")
    assert json.loads(said.out)["legs_mm"] == {"a": 1023.9375, "b": 708.025}


@pytest.mark.parametrize(
    "text",
    ["", "\n", "colour\n1\n", "nps,nps\n4,4\n", "nps,schedule\n4,40,3\n", b"\xff", 'nps,schedule\n"4'],
    ids=repr,
)
def test_a_csv_that_cannot_be_read_leaves_with_2_and_one_line(ask, text):
    said = ask(text, "--csv")
    assert (said.code, said.err.count("\n")) == (2, 1)
