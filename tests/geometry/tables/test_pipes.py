"""Finding pipe, elbows, grooves and the other rows by what people write."""

import pytest

from geometry.tables import UnknownPipe, nominal_size, pipe, pipe_sizes, schedules


def test_sizes_come_in_rising_order():
    assert pipe_sizes()[:6] == ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
    assert pipe_sizes()[-3:] == ("20", "22", "24")


@pytest.mark.parametrize(
    ("written", "nps"),
    [
        ("4", "4"),
        (" 4 ", "4"),
        ('4"', "4"),
        ("NPS 4", "4"),
        ("nps4", "4"),
        ("4 in", "4"),
        ("1-1/2", "1-1/2"),
        ("1 1/2", "1-1/2"),
        ("1½", "1-1/2"),
        ("1.5", "1-1/2"),
        ("2.5", "2-1/2"),
        ("3/4", "3/4"),
        ("DN 100", "4"),
        ("DN100", "4"),
        ("dn 65", "2-1/2"),
    ],
)
def test_a_size_is_known_however_it_is_written(written, nps):
    assert nominal_size(written) == nps


@pytest.mark.parametrize("written", ["7", "4.5", "1 1/3", "", "four", "DN 7", "-4", "nan", "26", "100"])
def test_an_unknown_size_names_those_there_are(written):
    with pytest.raises(UnknownPipe, match=r"choose NPS 1/2, 3/4, 1, .*, 24\."):
        nominal_size(written)


@pytest.mark.parametrize("written", ["40", "Sch 40", "SCH40", "sch. 40", "Schedule 40", " 40 "])
def test_a_schedule_is_known_however_it_is_written(written):
    assert pipe("4", written).schedule == "40"


def test_an_unknown_schedule_names_those_of_that_size():
    with pytest.raises(UnknownPipe, match='No schedule "40" in NPS 22: choose 10S, 10, STD, 80, XS'):
        pipe("22", "40")


def test_schedules_of_a_size_are_listed():
    assert schedules("4") == ("10S", "10", "40", "STD", "80", "XS")


def test_mm_are_inches_times_25_4_where_the_printed_metric_size_is_rounded():
    assert pipe("24", "STD").od_mm == pytest.approx(609.6, abs=1e-9)
    assert pipe("18", "STD").od_mm == pytest.approx(457.2, abs=1e-9)


def test_a_pipe_says_its_name():
    assert pipe("4", "40").name == "NPS 4 SCH 40"
    assert pipe("12", "STD").name == "NPS 12 STD"
