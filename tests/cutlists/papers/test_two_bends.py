"""Papers of a spool with two bends: every mark of both elbows, the roll around the pipe, and the room it takes."""

from math import pi

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.spool_sheets import spool_sheet_of
from cutlists.papers.tickets import spools_to_print, tickets_of
from geometry.tables import pipe
from spools.laid_out import read_laid_out
from spools.queries.load_proposal import size_of
from tests.cutlists.papers.random_spools import foreman_of
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_shop
from tests.factories.spools import NOON
from tests.factories.surveys import ROLLING, SKEWED, two_bend_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def printed():
    tie_in = make_tie_in(make_job(make_shop()), end_b="beveled", measured_to_b="pipe_end")
    spool = two_bend_spool(tie_in, SKEWED)
    person = foreman_of(spool.shop)
    (found,) = spools_to_print([spool.id], person)
    return found, Printing(person, NOON)


def test_the_sheet_carries_the_marks_of_both_elbows_and_the_roll(printed):
    spool, printing = printed
    marks = {mark.name: mark.mm for mark in spool_sheet_of(spool, printing).elbow_marks}
    twist = read_laid_out(spool.reading.line).line.twists_deg[0]
    assert [name for name in marks if name.startswith("E")] == [
        f"{elbow} {mark}" for elbow in ("E1", "E2") for mark in ("throat", "center", "heel")
    ]
    roll = next(mm for name, mm in marks.items() if name.startswith("roll around the pipe"))
    assert roll == pytest.approx(pi * pipe("6", "40").od_mm * abs(twist) / 360.0)


def test_each_piece_has_its_ticket(printed):
    assert [ticket.piece for ticket in tickets_of(*printed)] == ["A", "E1", "P1", "E2", "B"]


def test_a_truck_counts_with_the_room_that_it_takes_in_three_directions(printed):
    spool, _ = printed
    length, width, height = size_of(spool)
    assert length > width > pipe("6", "40").od_mm
    assert height > pipe("6", "40").od_mm
    assert length <= sum(read_laid_out(spool.reading.line).line.legs_mm) + pipe("6", "40").od_mm


def test_whole_elbows_are_named_so():
    tie_in = make_tie_in(make_job(make_shop()), end_b="beveled", measured_to_b="pipe_end")
    spool = two_bend_spool(tie_in, ROLLING)
    person = foreman_of(spool.shop)
    (found,) = spools_to_print([spool.id], person)
    words = {piece.mark: piece.words for piece in spool_sheet_of(found, Printing(person, NOON)).pieces}
    assert (words["214-E1"], words["214-E2"], words["214-A"]) == ("whole elbow", "whole elbow", "pipe")
