"""A mistake is undone by an event that names it; nothing is deleted."""

from datetime import timedelta

import pytest

from spools.actions.load_truck import load_truck
from spools.actions.record_step import Tap, record_step
from spools.actions.undo_event import undo_event
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Piece
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


def tap(spool, step, person, **fields):
    return record_step(spool_id=spool.id, step=step, person=person, key=make_key(), at=NOON, tap=Tap(**fields)).event


def undo(spool, number, person, **fields):
    call = {"key": make_key(), "at": NOON + timedelta(minutes=5)} | fields
    recorded = undo_event(spool_id=spool.id, number=number, person=person, **call)
    spool.refresh_from_db()
    return recorded


def refused(spool, number, person, **fields):
    with pytest.raises(ShopError) as caught:
        undo(spool, number, person, **fields)
    return caught.value.code


def test_an_undone_cut_is_to_be_cut_again(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    event = tap(spool, "cut", cutter)
    undo(spool, event.number, cutter)
    assert (spool.status, spool.next_step) == ("measured", "cut")
    assert not Piece.objects.filter(spool=spool, is_cut=True).exists()
    assert spool.events.count() == 3


def test_only_the_own_taps_of_ten_minutes_without_the_foreman(spool):
    cutter, other = make_person(spool.shop, Role.CUTTER), make_person(spool.shop, Role.CUTTER)
    event = tap(spool, "cut", cutter)
    assert refused(spool, event.number, other) == "too_late"
    assert refused(spool, event.number, cutter, at=NOON + timedelta(minutes=11)) == "too_late"


def test_the_foreman_undoes_older_ones_with_a_reason(spool):
    foreman = make_person(spool.shop, Role.FOREMAN)
    event = tap(spool, "cut", make_person(spool.shop, Role.CUTTER))
    late = NOON + timedelta(hours=3)
    assert refused(spool, event.number, foreman, at=late) == "invalid"
    undo(spool, event.number, foreman, at=late, reason="wrong mark tapped")
    assert spool.next_step == "cut"


def test_what_something_stands_on_is_not_undone_first(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    cut = tap(spool, "cut", cutter)
    groove = tap(spool, "grooved", cutter)
    assert refused(spool, cut.number, cutter) == "depends"
    undo(spool, groove.number, cutter)
    undo(spool, cut.number, cutter)
    assert spool.next_step == "cut"


def test_an_undone_event_is_not_undone_twice(spool):
    cutter = make_person(spool.shop, Role.CUTTER)
    event = tap(spool, "cut", cutter)
    undo(spool, event.number, cutter)
    assert refused(spool, event.number, cutter) == "already_undone"


def test_the_reading_itself_is_not_undone(spool):
    assert refused(spool, 1, make_person(spool.shop, Role.FOREMAN), reason="why not") == "not_undoable"


def cut_grooved_and_welded(spool, person):
    """Cut both legs each on its own, then all that stands on them."""
    a, b = tap(spool, "cut", person, targets=("A",)), tap(spool, "cut", person, targets=("B",))
    return a, b, tap(spool, "welded", person, already=True)


def test_an_undo_says_first_what_else_it_takes_back(spool):
    foreman = make_person(spool.shop, *Role)
    cut_a, _, _ = cut_grooved_and_welded(spool, foreman)
    with pytest.raises(ShopError) as asked:
        undo(spool, cut_a.number, foreman)
    assert asked.value.code == "depends"
    assert asked.value.words == "It has since been beveled and welded."
    assert asked.value.facts["standing_on"] == ["beveled", "welded"]


def test_with_a_yes_only_what_stands_on_it_falls(spool):
    foreman = make_person(spool.shop, *Role)
    cut_a, _, _ = cut_grooved_and_welded(spool, foreman)
    grooved_b = spool.the_route.ends_needing("grooved")
    undo(spool, cut_a.number, foreman, also=True)
    standing = spool.the_standing
    assert set(standing.done["cut"]) == {"B", "E"}
    assert standing.done["grooved"] == grooved_b
    assert all(not target.startswith("A") for target in standing.done["beveled"])
    assert standing.done["welded"] == ()
    assert standing.attempts == 1
    assert spool.next_step == "cut"


def test_taps_of_others_on_top_need_the_foreman(spool):
    cutter, fitter = make_person(spool.shop, Role.CUTTER), make_person(spool.shop, Role.FITTER)
    cut = tap(spool, "cut", cutter)
    tap(spool, "welded", fitter, already=True)
    assert refused(spool, cut.number, cutter, also=True) == "too_late"
    foreman = make_person(spool.shop, Role.FOREMAN)
    assert refused(spool, cut.number, foreman, also=True) == "invalid"
    undo(spool, cut.number, foreman, also=True, reason="wrong spool scanned")
    assert spool.next_step == "cut"


def test_nothing_under_a_spool_that_went_out_is_undone(spool):
    foreman = make_person(spool.shop, *Role)
    _, _, welded = cut_grooved_and_welded(spool, foreman)
    tap(spool, "accepted", make_person(spool.shop, Role.FITTER), check_mm=spool.check_mm)
    call = {"person": foreman, "key": make_key(), "at": NOON}
    load_truck(kind="coating", going_to="Dunmere Galvanizing", spool_ids=[spool.id], **call)
    assert refused(spool, welded.number, foreman, also=True, reason="slip") == "gone_out"
