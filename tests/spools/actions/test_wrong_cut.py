"""A piece cut wrong is cut again: what stood on it falls, and its heat goes with the steel."""

import pytest

from spools.actions.rebuild_status import rebuild_status
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_weld import reject_weld
from spools.actions.wrong_cut import wrong_cut
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.models import Heat, Spool
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def call(spool):
    person = make_person(spool.shop, Role.FOREMAN)
    return lambda: {"spool_id": spool.id, "person": person, "key": make_key(), "at": NOON}


def cut(spool, call, number: str = "") -> None:
    melt = Heat.objects.create(shop=spool.shop, number=number) if number else None
    record_step(step="cut", tap=Tap(targets=("A",), heats={"A": melt.id} if melt else {}), **call())


def test_a_wrong_piece_is_to_be_cut_again_with_its_ends_and_the_others_stay(spool, call):
    record_step(step="grooved", tap=Tap(already=True), **call())
    record_step(step="beveled", tap=Tap(already=True), **call())
    wrong_cut(piece="A", reason="1 in short", **call())
    standing = Spool.objects.get(id=spool.id).the_standing
    assert "A" not in standing.done["cut"]
    assert "B" in standing.done["cut"]
    assert not [t for step in ("grooved", "beveled") for t in standing.done[step] if t.startswith("A.")]
    assert [t for step in ("grooved", "beveled") for t in standing.done[step] if t.startswith("B.")]


def test_the_heat_of_a_piece_cut_wrong_is_not_the_heat_of_the_one_cut_in_its_place(spool, call):
    cut(spool, call, "7K1")
    assert spool.pieces.get(mark="A").heat.number == "7K1"
    wrong_cut(piece="A", reason="1 in short", **call())
    assert spool.pieces.get(mark="A").heat is None
    cut(spool, call)
    assert spool.pieces.get(mark="A").heat is None
    assert rebuild_status(write=False) == []


def test_a_spool_sent_back_to_the_saw_forgets_its_heats_too(spool, call):
    cut(spool, call, "7K1")
    reject_weld(back_to="cut", reason="out of round", **call())
    cut(spool, call, "7K2")
    assert spool.pieces.get(mark="A").heat.number == "7K2"
    assert rebuild_status(write=False) == []


def test_a_piece_that_is_welded_in_is_not_cut_again_without_rejecting_the_weld(spool, call):
    record_step(step="welded", tap=Tap(already=True), **call())
    with pytest.raises(ShopError, match="welded in already"):
        wrong_cut(piece="A", reason="1 in short", **call())


def test_only_a_piece_of_the_saw_can_be_cut_wrong(spool, call):
    with pytest.raises(ShopError, match="There is no piece Z to cut"):
        wrong_cut(piece="Z", reason="1 in short", **call())
