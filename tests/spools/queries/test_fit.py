"""Before the saw runs: the chance that a spool fits, what to measure again, and what the checks can't see."""

from dataclasses import replace

import pytest

from geometry.allowances import joint_allowance
from geometry.fit import FitInput, fit_report
from spools.queries.fit import _in_hundred, fit_of
from spools.stored_readings import check_input_of
from spools.stored_solutions import read_solution
from tests.factories.jigs import make_set_points
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_shop
from tests.factories.spools import CLOSES, make_spool, take

pytestmark = pytest.mark.django_db


def stated(spool, *, coupling=None):
    """Return the report that the geometry gives for a spool's end B."""
    solution = read_solution(spool.solution)
    end, pipe = solution.request.end_b, solution.request.pipe
    joint = joint_allowance(pipe, prep=end.prep, coupling=coupling, field_trim_mm=end.field_trim_mm)
    measured = check_input_of(spool.reading)
    return fit_report(FitInput(measured=measured, take_off_mm=solution.answer.take_off_mm, allowance=joint))


def test_the_chance_is_the_geometrys_own():
    spool = make_spool(end_b="beveled")
    found = fit_of(spool)
    assert [one.joint for one in found.chances] == ["butt weld"]
    assert found.chances[0].in_hundred == _in_hundred(stated(spool).probability)
    assert found.chances[0].in_hundred_after == _in_hundred(stated(spool).best_repeat.probability)


def test_a_groove_whose_coupling_is_not_named_is_judged_with_both():
    spool = make_spool(end_b="grooved")
    found = fit_of(spool)
    assert [one.joint for one in found.chances] == ["rigid grooved coupling", "flexible grooved coupling"]
    rigid, flexible = (_in_hundred(stated(spool, coupling=name).probability) for name in ("rigid", "flexible"))
    assert [one.in_hundred for one in found.chances] == [rigid, flexible]


def test_the_one_reading_that_helps_most_is_said_in_words():
    spool = make_spool(end_b="beveled")
    assert stated(spool).best_repeat.number == "included"
    assert fit_of(spool).chances[0].again == "read the included angle a second time and take the mean"


def test_what_the_checks_do_not_see_has_its_size_for_each_number():
    unseen = {one.number: one for one in fit_of(make_spool()).unseen}
    assert set(unseen) == {"leg A", "leg B", "the included angle", "C"}
    assert 5.0 < unseen["leg A"].size_mm < 50.0
    assert unseen["leg A"].size_deg is None
    assert 1.0 < unseen["the included angle"].size_deg < 10.0


def test_straight_pipe_has_no_fit_to_tell():
    tie_in = make_tie_in(make_job(make_shop()), "300")
    set_points = make_set_points(tie_in.job.shop)
    read = f"{180 - set_points.included_offset_deg:g}"
    taken = take(tie_in, replace(CLOSES, included=read, closing="58 11/16"), set_points_id=set_points.id)
    assert [piece.kind for piece in taken.spool.pieces.all()] == ["pipe"]
    assert fit_of(taken.spool) is None


def test_it_is_worked_once_and_kept(monkeypatch, settings):
    settings.CACHES = {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache", "LOCATION": "fit"}}
    spool = make_spool()
    first = fit_of(spool)
    monkeypatch.setattr("spools.queries.fit.fit_report", lambda asked: pytest.fail(f"worked again: {asked}"))
    assert fit_of(spool) == first


def test_nothing_is_promised_and_nothing_given_up():
    assert [_in_hundred(chance) for chance in (0.0, 0.004, 0.62, 0.9999, 1.0)] == [1, 1, 62, 99, 99]
