"""Survey shots that need two bends: laid out for the foreman, who builds one of the ways."""

import pytest

from spools.actions.lay_out import lay_out
from spools.actions.take_reading import take_reading
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.laid_out import read_laid_out
from spools.models import Reading, Spool, Survey
from spools.queries.lay_outs import ways_to_lay_out
from spools.stored_solutions import read_solution
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON, make_key
from tests.factories.surveys import ROLLING, SKEWED, bring, two_bend_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def tie_in():
    return make_tie_in(make_job(make_shop()), end_a="beveled", end_b="beveled", measured_to_b="pipe_end")


@pytest.fixture
def foreman(tie_in):
    return make_person(tie_in.job.shop, Role.FOREMAN)


def build(reading, person, *, code="", key="", **more):
    given = {"code": code or ways_to_lay_out(reading)[0].code, "key": key or make_key(), "at": NOON}
    return lay_out(reading_id=reading.id, person=person, reason="as drawn", **(given | more))


def test_skewed_shots_become_a_reading_of_two_bends_that_waits_for_the_foreman(tie_in):
    reading = bring(tie_in, SKEWED)
    tie_in.refresh_from_db()
    assert tie_in.current_reading == reading
    assert reading.closes is False
    assert not Spool.objects.exists()
    assert reading.findings[0]["text"].startswith("Two bends, laid out from survey shots: turns ")
    assert Survey.objects.get().reading == reading


def test_a_rolling_offset_is_offered_with_whole_elbows_first(tie_in):
    ways = ways_to_lay_out(bring(tie_in, ROLLING))
    assert ways[0].made == "whole long radius elbow"
    assert ways[0].now
    assert ways[0].turns.startswith("turns 45° and 45°, the second straight against the first")


def test_the_way_that_is_chosen_is_built_with_its_five_pieces_and_four_welds(tie_in, foreman):
    reading = bring(tie_in, SKEWED)
    spool = build(reading, foreman)
    assert [piece.mark for piece in spool.pieces.all()] == ["A", "E1", "P1", "E2", "B"]
    assert spool.joints.count() == 4
    line = read_laid_out(spool.reading.line)
    assert (spool.leg_a_mm, spool.leg_b_mm) == (line.line.legs_mm[0], line.line.legs_mm[2])
    assert len(spool.box_mm) == 3


def test_what_is_stored_reads_back_to_the_last_bit(tie_in):
    spool = two_bend_spool(tie_in, SKEWED)
    solution = read_solution(Spool.objects.get(id=spool.id).solution)
    assert solution.request.line == read_laid_out(spool.reading.line).line
    assert solution.answer.check_mm == spool.check_mm


def test_another_way_becomes_a_reading_of_its_own_and_the_first_one_stays(tie_in, foreman):
    first = bring(tie_in, ROLLING)
    other = next(way for way in ways_to_lay_out(first) if not way.now)
    spool = build(first, foreman, code=other.code)
    assert spool.reading.revision == 2
    assert spool.reading.line != first.line
    assert Reading.objects.count() == 2


def test_the_same_key_builds_once(tie_in, foreman):
    reading = bring(tie_in, ROLLING)
    once, again = (build(reading, foreman, key="one-and-the-same") for _ in range(2))
    assert once == again
    assert Reading.objects.count() == 2


def test_a_live_build_is_only_ended_on_purpose(tie_in, foreman):
    first = two_bend_spool(tie_in, ROLLING)
    other = next(way for way in ways_to_lay_out(first.reading) if not way.now)
    with pytest.raises(ShopError) as refused:
        build(first.reading, foreman, code=other.code)
    assert refused.value.code == "still_live"
    assert Reading.objects.count() == 2
    second = build(first.reading, foreman, code=other.code, instead=True)
    first.refresh_from_db()
    assert (first.live, second.live, second.replaces) == (False, True, first)


def test_who_may_not_and_a_way_that_is_none(tie_in, foreman):
    reading = bring(tie_in, ROLLING)
    with pytest.raises(ShopError) as refused:
        build(reading, make_person(tie_in.job.shop, Role.FITTER))
    assert refused.value.code == "not_your_role"
    with pytest.raises(ShopError) as refused:
        build(reading, foreman, code="trimmed_elbow/1/2/3")
    assert refused.value.code == "no_such_plan"


def test_a_jig_reading_after_it_is_one_bend_again(tie_in, foreman):
    bring(tie_in, ROLLING)
    points = make_set_points(tie_in.job.shop)
    taken = take_reading(
        tie_in_id=tie_in.id, set_points_id=points.id, typed=CLOSES, person=foreman, key=make_key(), at=NOON, again=True
    )
    assert taken.reading.line is None
    assert taken.spool.box_mm is None


def test_ports_that_nothing_joins_are_kept_as_a_survey_without_a_reading(tie_in):
    near = ((700.0, 30.0, 20.0), (60.0, 30.0, 20.0))
    assert bring(tie_in, near) is None
    assert Survey.objects.count() == 1
