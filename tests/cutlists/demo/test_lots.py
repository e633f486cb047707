"""What becomes of every tie-in, laid out before anything is played."""

from collections import Counter
from datetime import UTC, datetime
from statistics import median

import pytest

from cutlists.demo.diary import Diary
from cutlists.demo.gallery import gallery
from cutlists.demo.lots import lots_of
from cutlists.demo.month import month_before
from cutlists.demo.scenario import COUNTS, NPS_8, SEATS, TIE_INS
from cutlists.demo.trucks import trips_of

ENDS = [datetime(2026, 11, day, 10, tzinfo=UTC) for day in (25, 26, 27, 28)]


@pytest.mark.parametrize("now", ENDS)
def test_every_story_is_told_by_a_tie_in_of_its_own(now):
    told = Counter(lot.story for lot in lots_of(month_before(now)))
    assert all(told[story] == 1 for story in SEATS)
    assert sum(number for story, number in told.items() if story.startswith("doubtful")) == 14
    assert told["released late"] == 5
    assert sum(told.values()) == COUNTS.measured


@pytest.mark.parametrize("now", ENDS)
def test_each_spool_is_worked_on_in_order(now):
    for lot in lots_of(month_before(now)):
        for making in lot.makings:
            stamps = [lot.stop.taken, lot.stop.received, making.slot, making.weld, making.accept]
            reached = [stamp for stamp in stamps if stamp is not None]
            assert reached == sorted(reached), lot


@pytest.mark.parametrize("now", ENDS)
def test_trucks_leave_with_accepted_spools_and_leave_the_right_places_full(now):
    month = month_before(now)
    lots = {lot.mark: lot for lot in lots_of(month)}
    trips = trips_of(Diary(month, None, lots))
    for trip in trips:
        assert all(any(m.accept is not None and m.accept < trip.out for m in lots[mark].makings) for mark in trip.marks)
    split = [trip for trip in trips if month.day_of(trip.out) == 19]
    assert [len(trip.marks) for trip in split] == [22, 9]
    assert len(trips[-1].marks) == COUNTS.at_galvanizer
    stay = [mark for trip in trips[:-1] for mark in trip.marks if mark not in trip.to_site]
    assert len(stay) == COUNTS.back_in_yard + 1  # and the lost one


def test_the_gallery_is_as_described():
    places = gallery().values()
    turns = [place.turn_deg for place in places]
    legs = [leg for place in places for leg in (place.leg_a_in, place.leg_b_in)]
    assert len(places) == TIE_INS
    assert sum(place.nps == "8" for place in places) == NPS_8
    assert (min(turns), median(turns), max(turns)) == (12, 38, 71)
    assert (min(legs), max(legs)) == (11, 57)
    assert max(place.station_ft for place in places) <= 4080
