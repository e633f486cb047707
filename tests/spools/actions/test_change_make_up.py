"""The foreman says how a tie-in is made: uncut it is built anew, cut it is held; what can't be built is refused."""

from dataclasses import replace
from math import sqrt

import pytest

from geometry.tables import pipe
from spools.actions.change_make_up import MakeUp, change_make_up
from spools.actions.record_step import record_step
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Piece, Spool
from tests.factories.jobs import make_job, make_tie_in
from tests.factories.people import make_person, make_shop
from tests.factories.spools import CLOSES, NOON, make_key, take

pytestmark = pytest.mark.django_db
AS_MEASURED = {"bend_kind": "trimmed_elbow", "end_a": "beveled", "end_b": "grooved"}


@pytest.fixture
def tie_in():
    return make_tie_in(make_job(make_shop()))


@pytest.fixture
def foreman(tie_in):
    return make_person(tie_in.job.shop, Role.FOREMAN, Role.CUTTER)


def make(tie_in, person, **choice):
    given = {"person": person, "key": make_key(), "at": NOON, "reason": "no elbow in stock"}
    return change_make_up(tie_in_id=tie_in.id, made=MakeUp(**(AS_MEASURED | choice)), **given)


def leg(spool, mark):
    return Piece.objects.get(spool=spool, mark=mark)


def test_an_uncut_spool_is_built_anew_as_a_miter_and_keeps_its_clock(tie_in, foreman):
    first = take(tie_in).spool
    _, second = make(tie_in, foreman, bend_kind="miter")
    first.refresh_from_db()
    assert (first.live, second.live, second.build, second.bend_kind) == (False, True, 2, "miter")
    assert second.clock_start_at == first.clock_start_at
    assert [piece.kind for piece in second.pieces.order_by("mark")] == ["pipe", "pipe"]


def test_a_cut_spool_is_held_for_a_decision_and_goes_on_existing(tie_in, foreman):
    first = take(tie_in).spool
    record_step(spool_id=first.id, step="cut", person=foreman, key=make_key(), at=NOON)
    _, second = make(tie_in, foreman, bend_kind="miter")
    first.refresh_from_db()
    assert (second, first.live, first.hold_count) == (None, True, 1)


def test_what_can_not_be_built_changes_nothing(tie_in, foreman):
    spool = take(tie_in).spool
    with pytest.raises(ShopError) as refused:
        make(tie_in, foreman, bend_kind="whole_elbow")  # a turn of 52.5 is no whole elbow
    tie_in.refresh_from_db()
    assert (refused.value.code, tie_in.bend_kind) == ("not_buildable", "trimmed_elbow")
    assert Spool.objects.get(live=True) == spool


def test_the_same_again_builds_nothing(tie_in, foreman):
    take(tie_in)
    assert make(tie_in, foreman)[1] is None
    assert Spool.objects.count() == 1


def test_only_the_foreman_and_only_with_a_reason(tie_in, foreman):
    with pytest.raises(ShopError) as refused:
        make(tie_in, make_person(tie_in.job.shop, Role.FITTER), bend_kind="miter")
    assert refused.value.code == "not_your_role"
    with pytest.raises(ShopError) as refused:
        change_make_up(
            tie_in_id=tie_in.id, made=MakeUp(**AS_MEASURED), person=foreman, key=make_key(), at=NOON, reason=" "
        )
    assert "reason" in refused.value.fields


def test_a_coupling_center_waits_for_which_coupling_and_is_built_once_it_is_said(tie_in, foreman):
    at_center = replace(CLOSES, measured_to_b="coupling_center")
    assert take(tie_in, at_center, keep_anyway=True).spool is None
    _, spool = make(tie_in, foreman, end_options={"b": {"coupling": "flexible"}})
    plain = take(make_tie_in(tie_in.job, "215")).spool
    shorter = (
        Piece.objects.get(spool=plain, mark="B").exact_cut_mm - Piece.objects.get(spool=spool, mark="B").exact_cut_mm
    )
    # AWWA C606's generic end gap for NPS 6 is 1/8 in: half of it is each pipe's.
    assert shorter == pytest.approx(25.4 / 16, abs=1e-9)


def test_a_saddle_is_coped_to_the_main_of_its_tie_in(tie_in, foreman):
    main = tie_in.main
    main.nps, main.schedule = "24", "STD"
    main.save()
    tie_in.end_a, tie_in.measured_to_a = "saddle", "saddle_wall"
    tie_in.save()
    assert take(tie_in, keep_anyway=True).spool is None
    with pytest.raises(ShopError) as refused:
        make(tie_in, foreman, end_a="saddle")
    assert "included" in refused.value.fields
    _, spool = make(tie_in, foreman, end_a="saddle", end_options={"a": {"included_deg": 90.0}})
    coped, plain = leg(spool, "A"), leg(take(make_tie_in(tie_in.job, "215")).spool, "A")
    # Cut with the torch square to the pipe, a square branch stands on its inside edge at the flanks, which lie
    # R - sqrt(R^2 - r^2) below the crown of the main.
    large, small = pipe("24", "STD").od_mm / 2, pipe("6", "40").od_mm / 2 - pipe("6", "40").wall_mm
    assert coped.exact_cut_mm - plain.exact_cut_mm == pytest.approx(large - sqrt(large**2 - small**2), abs=1e-6)
    assert any(end["prep"] == "saddle" and "coped" in end["operations"] for end in coped.ends)
