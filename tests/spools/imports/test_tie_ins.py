"""Each line of a list of tie-ins is either good, or says for each of its columns what to mend."""

import pytest

from spools.imports.table import read_table
from spools.imports.tie_ins import HEADINGS, KnownJob, check_tie_ins

JOB = KnownJob(units="us", mains={"east gallery": 7}, marks={"214": "East gallery"})
LINE = {"mark": "301", "station": "12+40", "side": "left", "nps": "6"}


def checked(**cells: str):
    line = LINE | cells
    text = ",".join(name.replace("_", " ") for name in line) + "\n" + ",".join(line.values())
    return check_tie_ins(read_table(text.encode(), known=HEADINGS), JOB)


def test_a_plain_line_takes_the_usual_pipe_and_ends():
    line = checked().good[0].value
    assert (line.main_id, line.key, line.new.station_mm) == (7, "301", 1240 * 304.8)
    assert (line.new.schedule, line.new.end_a, line.new.end_b) == ("40", "beveled", "grooved")
    assert (line.new.measured_to_a, line.new.measured_to_b) == ("pipe_end", "pipe_end")


def test_words_people_use_for_ends_and_references_are_understood():
    line = checked(end_a="Flanged weld neck", end_b="grooved", measured_to_b="coupling center", side="R").good[0].value
    assert (line.new.end_a, line.new.measured_to_a) == ("flanged_weld_neck", "flange_face")
    assert (line.new.measured_to_b, line.new.side) == ("coupling_center", "right")


@pytest.mark.parametrize(("typed", "day"), [("2026-12-18", "2026-12-18"), ("46374", "2026-12-18")])
def test_a_day_is_read_as_written_or_as_a_spreadsheet_keeps_it(typed, day):
    assert str(checked(needed_on=typed).good[0].value.new.needed_on) == day


@pytest.mark.parametrize(
    ("cells", "column", "words"),
    [
        ({"mark": ""}, "mark", "Write the tie-in's mark"),
        ({"mark": "x" * 17}, "mark", "at most 16"),
        ({"mark": "2\u202e14"}, "mark", "invisible"),
        ({"mark": "214"}, "mark", "already on East gallery"),
        ({"main": "West"}, "main", "There is no main"),
        ({"station": ""}, "station", "12\\+40"),
        ({"station": "here"}, "station", "can read: write 12\\+40"),
        ({"side": "up"}, "side", "left or right"),
        ({"nps": ""}, "nps", "nominal size"),
        ({"nps": "7"}, "nps", "7"),
        ({"schedule": "41"}, "nps", "41"),
        ({"end_a": "welded"}, "end_a", "choose from plain"),
        ({"end_b": "beveled", "measured_to_b": "coupling center"}, "measured_to_b", "is measured to"),
        ({"bend": "swing"}, "bend", "Choose from"),
        ({"design_included": "190"}, "design", "over 180"),
        ({"needed_on": "18/12"}, "needed_on", "2026-12-18"),
        ({"note": "x" * 201}, "note", "200"),
    ],
)
def test_what_is_wrong_is_said_of_its_own_column(cells, column, words):
    result = checked(**cells)
    assert result.good == ()
    assert [name for name, _ in result.bad[0].problems] == [column]
    assert pytest.importorskip("re").search(words, result.bad[0].problems[0][1])


def test_all_that_is_wrong_with_a_line_is_said_at_once():
    result = checked(mark="", station="x", side="", nps="99")
    assert {name for name, _ in result.bad[0].problems} == {"mark", "station", "side", "nps"}


def test_a_mark_that_stands_twice_is_bad_the_second_time():
    text = "mark,station,side,nps\n301,1+00,left,6\n301,2+00,left,6\n"
    result = check_tie_ins(read_table(text.encode(), known=HEADINGS), JOB)
    assert ([line.line for line in result.good], [row.line for row in result.bad]) == ([2], [3])
    assert "line 2 already" in result.bad[0].problems[0][1]
