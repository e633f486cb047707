"""What happens to spools on trucks: split, counted, missing, damaged, found again, rejected, not fitting, signed."""

from datetime import date, timedelta

import pytest

from spools.actions.count_back import count_back, report_damaged, report_missing
from spools.actions.deliver import deliver
from spools.actions.load_lines import Told
from spools.actions.load_truck import Placed, load_truck, send_trip
from spools.actions.misfit_on_load import misfit_on_load
from spools.actions.reject_coating import reject_coating
from spools.actions.replace_spool import start_replacement, use_the_old_one
from spools.actions.report_misfit import report_misfit
from spools.actions.sign_load import sign_load
from spools.actions.turn_up import turn_up
from spools.actions.uncount import uncount
from spools.actions.weigh_load import weigh_load
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Load, Spool
from spools.queries.spool import story_of
from tests.factories.loads import everybody_of, make_accepted_ones, make_load
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, take

pytestmark = pytest.mark.django_db

DRAWN = [[[0, 0], [500, 500]], [[100, 900], [900, 100]]]


def by(spool: Spool) -> dict:
    return {"person": everybody_of(spool), "key": make_key(), "at": NOON}


def line(load: Load, spool: Spool):
    return load.lines.get(spool=spool)


def missing_one() -> tuple[Load, Spool, Spool]:
    """A load of two: 214 is back, 215 is missing."""
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    count_back(load_id=load.id, spool_ids=[one.id], **by(one))
    report_missing(load_id=load.id, spool_id=other.id, reason="nobody has it", **by(one))
    return load, one, other


def test_a_load_leaves_with_its_first_trip_and_the_rest_waits_for_its_own():
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other, placed=Placed(trip={other.id: 2}, rack={one.id: "1"}))
    one.refresh_from_db()
    other.refresh_from_db()
    assert (one.status, other.status) == ("at_coating", "welded")
    assert (line(load, one).rack, line(load, other).left_at) == ("1", None)
    send_trip(load_id=load.id, trip=2, **by(one))
    other.refresh_from_db()
    assert other.status == "at_coating"
    assert line(load, other).left_at == NOON


def test_a_spool_is_on_one_open_load_only():
    one, other = make_accepted_ones("214", "215")
    make_load(one, other, placed=Placed(trip={other.id: 2}))
    with pytest.raises(ShopError, match="215 is on another load"):
        make_load(other)


def test_the_day_it_should_be_back_counts_working_days():
    (one,) = make_accepted_ones("214")
    load = make_load(one)  # on a Tuesday, five working days
    assert load.due_back_on == date(2026, 12, 1)


def test_a_load_counts_as_accounted_for_when_every_line_is():
    load, _, _ = missing_one()
    load.refresh_from_db()
    assert load.closed_at == NOON


def test_a_missing_spool_is_built_again_and_inherits_its_clock():
    _, _, lost = missing_one()
    new = start_replacement(spool_id=lost.id, rush=True, **by(lost))
    lost.refresh_from_db()
    assert (lost.live, new.live, new.label, new.next_step) == (False, True, "215 B", "cut")
    assert (new.clock_start_at, new.due_at) == (lost.clock_start_at, lost.due_at)
    assert new.rush
    assert new.replaces_id == lost.id


def test_a_replacement_started_twice_by_the_same_key_is_one():
    _, _, lost = missing_one()
    call = by(lost)
    assert start_replacement(spool_id=lost.id, **call) == start_replacement(spool_id=lost.id, **call)
    with pytest.raises(ShopError, match="no longer the live build"):
        start_replacement(spool_id=lost.id, **by(lost))


def test_one_that_turns_up_before_anything_replaced_it_is_back():
    load, _, lost = missing_one()
    turn_up(load_id=load.id, spool_id=lost.id, **by(lost))
    lost.refresh_from_db()
    assert (line(load, lost).settled, lost.next_step) == ("back", "delivered")


def test_one_that_turns_up_after_its_replacement_is_a_spare_and_never_a_second_live_build():
    load, _, lost = missing_one()
    start_replacement(spool_id=lost.id, **by(lost))
    turn_up(load_id=load.id, spool_id=lost.id, **by(lost))
    assert line(load, lost).settled == "spare"
    assert Spool.objects.filter(tie_in=lost.tie_in, live=True).count() == 1
    assert story_of(lost)[0].words.startswith("Turned up again, load 1 by Allhands")
    with pytest.raises(ShopError, match="superseded"):
        count_and_load(lost)


def count_and_load(spool: Spool) -> Load:
    return load_truck(kind="site", going_to="site", spool_ids=[spool.id], **by(spool))


def test_the_old_one_may_be_used_after_all_and_its_replacement_is_scrapped():
    load, _, lost = missing_one()
    new = start_replacement(spool_id=lost.id, **by(lost))
    turn_up(load_id=load.id, spool_id=lost.id, **by(lost))
    call = by(lost)
    use_the_old_one(spool_id=lost.id, **call)
    use_the_old_one(spool_id=lost.id, **call)
    lost.refresh_from_db()
    new.refresh_from_db()
    assert (lost.live, lost.next_step, new.live) == (True, "delivered", False)
    assert count_and_load(lost).lines.count() == 1


def test_a_damaged_spool_is_counted_and_stops_until_somebody_decides():
    (one,) = make_accepted_ones("214")
    load = make_load(one)
    report_damaged(load_id=load.id, spool_id=one.id, how="bare", note="at weld 1", **by(one))
    one.refresh_from_db()
    assert (line(load, one).settled, one.next_step, one.hold_count) == ("back", "delivered", 1)
    with pytest.raises(ShopError, match="on hold"):
        count_and_load(one)


def test_a_coating_dipped_again_is_a_new_trip_of_the_same_spool():
    (one,) = make_accepted_ones("214")
    load = make_load(one)
    report_damaged(load_id=load.id, spool_id=one.id, how="seat", **by(one))
    reject_coating(spool_id=one.id, how="redip", defect="seat", **by(one))
    one.refresh_from_db()
    assert (one.next_step, one.hold_count, one.coating_out_at) == ("at_coating", 0, None)
    assert one.the_standing.attempts == 2
    again = make_load(one, key="the-second-dip")
    count_back(load_id=again.id, spool_ids=[one.id], **by(one))
    one.refresh_from_db()
    assert (one.build, one.next_step) == (1, "delivered")


def test_a_coating_touched_up_waits_for_the_foreman_and_goes_nowhere_again():
    (one,) = make_accepted_ones("214")
    count_back(load_id=make_load(one).id, spool_ids=[one.id], **by(one))
    fitter = make_person(one.shop, Role.FITTER)
    reject_coating(spool_id=one.id, how="touch_up", defect="bare", person=fitter, key=make_key(), at=NOON)
    one.refresh_from_db()
    assert (one.next_step, one.the_standing.holds[0].reason) == ("delivered", "touch up the zinc: bare spots")


def test_a_coating_that_is_not_back_is_not_judged():
    (one,) = make_accepted_ones("214")
    make_load(one)
    with pytest.raises(ShopError, match="isn't back"):
        reject_coating(spool_id=one.id, how="redip", defect="bare", **by(one))


def test_a_slip_of_the_count_is_taken_back_in_place():
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    count_back(load_id=load.id, spool_ids=[one.id, other.id], **by(one))
    call = by(one)
    uncount(load_id=load.id, spool_id=one.id, **call)
    uncount(load_id=load.id, spool_id=one.id, **call)
    one.refresh_from_db()
    load.refresh_from_db()
    assert (line(load, one).settled, one.next_step, load.closed_at) == ("", "back", None)


def test_what_is_not_delivered_stays_on_the_truck_or_goes_back():
    one, other = make_accepted_ones("214", "215")
    count_back(load_id=make_load(one, other).id, spool_ids=[one.id, other.id], **by(one))
    site = make_load(one, other, kind="site", key="to-the-site")
    deliver(load_id=site.id, spool_ids=[one.id], receiver="Okafor", **by(one))
    other.refresh_from_db()
    assert (line(site, other).settled, other.next_step) == ("", "delivered")
    deliver(load_id=site.id, spool_ids=[], last=True, **by(one))
    assert line(site, other).settled == "taken off"
    assert make_load(other, kind="site", key="once-more").lines.count() == 1


def test_one_that_does_not_fit_gets_a_new_build_from_the_new_reading():
    (one,) = make_accepted_ones("214")
    count_back(load_id=make_load(one).id, spool_ids=[one.id], **by(one))
    site = make_load(one, kind="site", key="to-the-site")
    told = Told(by="Okafor")
    misfit_on_load(load_id=site.id, spool_id=one.id, how="long", reason="3/8 in", told=told, **by(one))
    one.refresh_from_db()
    assert (line(site, one).settled, one.hold_count) == ("taken off", 1)
    new = take(one.tie_in, again=True).spool
    one.refresh_from_db()
    assert (new.label, new.reading.letter, new.clock_start_at) == ("214 B", "B", one.clock_start_at)
    assert (one.live, one.the_standing.ended) == (False, "superseded")
    assert "the one before did not fit" in story_of(one)[0].words


def test_a_new_reading_after_cutting_still_stops_a_spool_that_nobody_said_does_not_fit():
    (one,) = make_accepted_ones("214")
    assert take(one.tie_in, again=True).spool is None
    one.refresh_from_db()
    assert (one.live, one.hold_count) == (True, 1)


def test_a_misfit_that_was_let_go_is_no_misfit_any_more():
    (one,) = make_accepted_ones("214")
    report_misfit(spool_id=one.id, how="long", reason="", **by(one))
    one.refresh_from_db()
    from spools.actions.let_go import let_go

    let_go(spool_id=one.id, **by(one))
    assert take(one.tie_in, again=True).spool is None


def test_a_signature_is_kept_with_the_count_it_stands_under():
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    count_back(load_id=load.id, spool_ids=[one.id], **by(one))
    call = by(one) | {"load_id": load.id, "name": "M. Tran"}
    kept = sign_load(signed_for="back", strokes=DRAWN, **call)
    assert (kept.count, kept.of, kept.strokes) == (1, 2, DRAWN)
    assert sign_load(signed_for="back", strokes=DRAWN, **call) == kept


@pytest.mark.parametrize(
    "strokes", [[], [[[1, 2]]], "x", [[["a", 1], [2, 3]]], [[[float("nan"), 1], [2, 3]]], [[[0, 0], [9, 9]]] * 200]
)
def test_what_is_no_drawing_is_no_signature(strokes):
    (one,) = make_accepted_ones("214")
    load = make_load(one)
    with pytest.raises(ShopError, match="Sign with a finger"):
        sign_load(load_id=load.id, signed_for="back", name="Tran", strokes=strokes, **by(one))


def test_a_weight_is_of_what_lay_on_the_truck():
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    assert weigh_load(load_id=load.id, way="out", net_kg=80.0, **by(one)).spools == [one.id, other.id]
    with pytest.raises(ShopError, match="Nothing to weigh"):
        weigh_load(load_id=load.id, way="back", net_kg=40.0, **by(one))
    count_back(load_id=load.id, spool_ids=[one.id], **by(one))
    assert weigh_load(load_id=load.id, way="back", net_kg=40.0, **by(one)).spools == [one.id]
    count_back(load_id=load.id, spool_ids=[other.id], **by(one))
    assert weigh_load(load_id=load.id, way="back", net_kg=40.0, **by(one)).spools == [other.id]


def test_nobody_but_driver_and_foreman_counts():
    (one,) = make_accepted_ones("214")
    load = make_load(one)
    cutter = make_person(one.shop, Role.CUTTER)
    with pytest.raises(ShopError, match="driver"):
        count_back(load_id=load.id, spool_ids=[one.id], person=cutter, key=make_key(), at=NOON + timedelta(hours=1))
